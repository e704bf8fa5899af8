import { nodeNormals } from '../../kernel/shell/geometry.ts';
import type { Frame } from './firing.ts';
import { distanceAt } from './props/obstacles.ts';
import type { Prop } from './props/table.ts';

/**
 * Pictures of a piece on props while it shrinks and is not soft yet. The creep clock stands still then, so between two of its
 * steps a picture knows of the shrinking but not that kiln furniture keeps its height: drawn as it comes, a piece sinks into
 * a ring setter by half a millimetre. Such a picture is lifted straight up, whole, until it is clear.
 */

/** Only what bears from below lifts: a prop facing up at least this much. */
const BEARING = 0.3;
/** Less than this is what contact leaves in any shape, m, and cannot be seen. */
const UNSEEN_m = 5e-5;

/** Least lift that brings a shape at true size clear of its props, m. */
const liftFor = (
  frame: Frame,
  triangles: Uint32Array,
  props: readonly Prop[],
  origin_m: readonly [number, number],
): number => {
  const { positions: p, thickness_m, linearScale: L } = frame;
  const normals = new Float64Array(p.length);
  nodeNormals(p, triangles, normals);
  const here = new Float64Array(4);
  let lift = 0;
  for (const prop of props) {
    const distance = distanceAt(prop, origin_m);
    const s = prop.shrinks ? L : 1;
    for (let i = 0; i < p.length; i += 3) {
      distance(p[i] / s, p[i + 1] / s, p[i + 2] / s, here);
      if (here[2] < BEARING) continue;
      const across = here[0] * normals[i] + here[1] * normals[i + 1] + here[2] * normals[i + 2];
      const deep = 0.5 * thickness_m[i / 3] * Math.abs(across) - s * here[3];
      lift = Math.max(lift, deep / here[2]);
    }
  }
  return lift;
};

/** The frame itself where nothing lies in a prop, else a copy lifted clear. */
export const lifted = (
  frame: Frame,
  triangles: Uint32Array,
  props: readonly Prop[],
  origin_m: readonly [number, number],
): Frame => {
  const lift = props.length > 0 ? liftFor(frame, triangles, props, origin_m) : 0;
  const clear =
    lift < UNSEEN_m
      ? frame
      : { ...frame, positions: frame.positions.map((x, i) => (i % 3 === 2 ? x + lift : x)) };
  return onShelf(clear, triangles);
};

/** Between two steps the film's curve may dip a node below the shelf: such a node lies on it. */
const onShelf = (frame: Frame, triangles: Uint32Array): Frame => {
  const { positions: p, thickness_m } = frame;
  const normals = new Float64Array(p.length);
  nodeNormals(p, triangles, normals);
  const low = (i: number): number => 0.5 * thickness_m[i / 3] * Math.abs(normals[i + 2]);
  let dips = false;
  for (let i = 0; i < p.length && !dips; i += 3) dips = p[i + 2] < low(i) - UNSEEN_m;
  if (!dips) return frame;
  const positions = p.slice();
  for (let i = 0; i < p.length; i += 3) positions[i + 2] = Math.max(p[i + 2], low(i) - UNSEEN_m);
  return { ...frame, positions };
};
