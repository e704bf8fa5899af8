import { B } from '../numerics/block-matrix.ts';
import { type Frames, turnVectors } from './frames.ts';
import type { Rubbing } from './friction.ts';
import type { Load } from './load.ts';

/** Where the power of one moment goes, W. */
export interface Powers {
  /** Weight and pressure on the moving wall: what drives it. */
  readonly load_W: number;
  /** Lost in the wall's own flow, v·K·v of the shell alone. */
  readonly viscous_W: number;
  /** Done on the wall by supports that move or bring back what lies too deep. */
  readonly support_W: number;
  /** Lost in sliding over the supports. */
  readonly friction_W: number;
  /** Lost in the small drag that keeps free bodies from drifting. */
  readonly drag_W: number;
}

/**
 * Powers of a solved moment, all along the nodes' own axes.
 * @param rates 6 × nodes @param total_W v·K·v with drag and friction in K
 */
export const powersOf = (
  load: Load,
  rates: Float64Array,
  drag: Float64Array,
  rubbing: Rubbing | undefined,
  support: Float64Array,
  contactForce_N: Float64Array,
  frames: Frames | undefined,
  total_W: number,
): Powers => {
  const force = load.force.slice();
  if (frames) turnVectors(frames, force, B);
  let loadPower = 0;
  for (let i = 0; i < rates.length; i++) loadPower += force[i] * rates[i];
  let dragged = 0;
  let rubbed = 0;
  let inMatrix = 0;
  let onWall = 0;
  for (let n = 0; n < drag.length; n++)
    for (let c = 0; c < 3; c++) {
      const v = rates[B * n + c];
      dragged += drag[n] * v * v;
      onWall += contactForce_N[3 * n + c] * v;
      if (!rubbing || c === 2) continue;
      inMatrix += rubbing.drag[n] * v * v;
      rubbed += rubbing.drag[n] * (v - support[3 * n + c]) ** 2;
    }
  return {
    load_W: loadPower,
    viscous_W: total_W - dragged - inMatrix,
    // What contact does to the wall, and what of the support's own work went into rubbing.
    support_W: onWall + rubbed,
    friction_W: rubbed,
    drag_W: dragged,
  };
};

/**
 * What is missing in load + support = viscous + friction + drag, as part of the greatest of them. The viscous part comes
 * from the elements, the others from forces and speeds: they meet only where the balance of every node is solved.
 */
export const powerBalance = (p: Powers): number => {
  const parts = [p.load_W, p.viscous_W, p.support_W, p.friction_W, p.drag_W];
  const missing = p.load_W + p.support_W - p.viscous_W - p.friction_W - p.drag_W;
  return missing / Math.max(...parts.map(Math.abs), Number.MIN_VALUE);
};
