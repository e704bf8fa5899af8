import type { Column } from '../numerics/compliance-way.ts';
import type { Frames } from './frames.ts';

/**
 * A one-sided contact that is more than one node's own: Σ direction·v over its nodes may not fall below a bound. A
 * node against a second support, the inside of a triangle against an obstacle, a node against another part of the wall.
 */
export interface Link {
  /** Names the same contact from step to step. */
  readonly key: number;
  readonly nodes: readonly number[];
  /** 3 a node, weight included: how the gap grows with the nodes' velocities. */
  readonly direction: readonly number[];
  readonly gap_m: number;
  /** How fast the gap opens by the support's own motion, m/s. */
  readonly opening_m_s: number;
  /** What it is against: an obstacle's number from 1, 0 the shelf, -1 the wall itself. */
  readonly on: number;
}

/** How fast a link's gap opens for velocities in `rates` (6 × nodes, x y z first). */
export const speedAlong = (l: Link, rates: Float64Array): number => {
  let s = 0;
  for (let k = 0; k < l.nodes.length; k++)
    for (let c = 0; c < 3; c++) s += l.direction[3 * k + c] * rates[6 * l.nodes[k] + c];
  return s;
};

/** A link as a column of the system in elimination order, along the nodes' own axes; held unknowns left out. */
export const columnOf = (l: Link, f: Frames | undefined, rank: Int32Array, held: Uint8Array): Column => {
  const at: number[] = [];
  const value: number[] = [];
  l.nodes.forEach((n, k) => {
    const d = l.direction.slice(3 * k, 3 * k + 3);
    for (let i = 0; i < 3; i++) {
      const u = 6 * rank[n] + i;
      if (held[u]) continue;
      const a = 9 * n + 3 * i;
      const v = f?.framed[n] ? f.axes[a] * d[0] + f.axes[a + 1] * d[1] + f.axes[a + 2] * d[2] : d[i];
      if (v !== 0) {
        at.push(u);
        value.push(v);
      }
    }
  });
  return { at, value };
};
