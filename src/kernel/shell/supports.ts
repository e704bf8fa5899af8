import { KEEP_SUPPORT_m } from './contact-tolerances.ts';
import { axesFor, type Frames } from './frames.ts';
import type { Link } from './link.ts';
import type { Obstacle } from './obstacle.ts';

/**
 * Which support each node is nearest to, how far, and which way it faces. One support a node bounds one unknown;
 * a second one within reach, as in the corner between shelf and wall, becomes a link.
 */
export interface Supports {
  /** 0 the shelf, k obstacle k - 1, -1 none within reach; from the step before it says what to keep to. */
  readonly on: Int16Array;
  readonly gap_m: Float64Array;
  /** How fast the gap opens by the support's own motion, m/s. */
  readonly opening_m_s: Float64Array;
  readonly frames: Frames;
  /** Whether any node has axes of its own. */
  turned: boolean;
  readonly seconds: Link[];
}

/** What is around the wall at a moment. */
export interface Surroundings {
  readonly shelf: boolean;
  readonly obstacles: readonly Obstacle[];
  readonly time_s: number;
  readonly dt_s: number;
  /** What may be met within the step, m. */
  readonly reach_m: number;
}

/** A wall as contact sees it; 3 × nodes, one a node. */
export interface Skin {
  readonly positions: Float64Array;
  readonly normals: Float64Array;
  readonly wall_m: Float64Array;
}

export const makeSupports = (nodes: number, shelf: boolean): Supports => ({
  on: new Int16Array(nodes).fill(shelf ? 0 : -1),
  gap_m: new Float64Array(nodes),
  opening_m_s: new Float64Array(nodes),
  frames: { framed: new Uint8Array(nodes), axes: new Float64Array(9 * nodes) },
  turned: false,
  seconds: [],
});

const here = new Float64Array(4);
const then = new Float64Array(4);

/** Gap of a point with half a wall around it, along the obstacle's normal, which is left in `here`. */
export const gapTo = (
  o: Obstacle,
  x: number,
  y: number,
  z: number,
  time_s: number,
  normal: ArrayLike<number>,
  at: number,
  wall_m: number,
): number => {
  o(x, y, z, time_s, here);
  const across = here[0] * normal[at] + here[1] * normal[at + 1] + here[2] * normal[at + 2];
  return here[3] - 0.5 * wall_m * Math.abs(across);
};
/** The normal of the obstacle last asked. */
export const normalHere = (): [number, number, number] => [here[0], here[1], here[2]];

/** How fast an obstacle's surface draws back from a point, m/s. */
export const openingOf = (o: Obstacle, x: number, y: number, z: number, s: Surroundings): number => {
  o(x, y, z, s.time_s, here);
  o(x, y, z, s.time_s + s.dt_s, then);
  return (then[3] - here[3]) / s.dt_s;
};

/** Finds every node's support. `held` as in a creep problem (6 × nodes or empty). */
export const findSupports = (a: Supports, skin: Skin, around: Surroundings, held: Uint8Array): void => {
  a.turned = false;
  a.seconds.length = 0;
  for (let n = 0; n < a.on.length; n++) findSupport(a, n, skin, around, held);
};

const findSupport = (a: Supports, n: number, skin: Skin, around: Surroundings, held: Uint8Array): void => {
  const { positions: p, normals, wall_m } = skin;
  const [x, y, z] = [p[3 * n], p[3 * n + 1], p[3 * n + 2]];
  const last = a.on[n];
  const favour = (which: number): number => (which === last ? KEEP_SUPPORT_m : 0);
  const shelfGap = around.shelf
    ? z - 0.5 * wall_m[n] * Math.abs(normals[3 * n + 2])
    : Number.POSITIVE_INFINITY;
  let best = around.shelf ? 0 : -1;
  let gap = shelfGap;
  const near: number[] = [];
  for (let k = 1; k <= around.obstacles.length; k++) {
    const g = gapTo(around.obstacles[k - 1], x, y, z, around.time_s, normals, 3 * n, wall_m[n]);
    if (!(g < around.reach_m) || !frameable(held, n, normalHere())) continue;
    near.push(k, g);
    if (g - favour(k) < gap - favour(best)) {
      best = k;
      gap = g;
    }
  }
  a.on[n] = best;
  a.gap_m[n] = gap;
  a.opening_m_s[n] = 0;
  a.frames.framed[n] = 0;
  if (best > 0) {
    const o = around.obstacles[best - 1];
    a.opening_m_s[n] = openingOf(o, x, y, z, around);
    o(x, y, z, around.time_s, here);
    frame(a.frames, n, normalHere(), held);
    a.turned = true;
    if (shelfGap < around.reach_m) a.seconds.push(secondOf(n, 0, [0, 0, 1], shelfGap, 0));
  }
  for (let i = 0; i < near.length; i += 2)
    if (near[i] !== best) {
      const o = around.obstacles[near[i] - 1];
      const opening = openingOf(o, x, y, z, around);
      a.seconds.push(secondOf(n, near[i], normalHere(), near[i + 1], opening));
    }
};

/** Keys of seconds: node and support; those of triangles' insides and of the wall itself lie above. */
const secondOf = (node: number, on: number, normal: number[], gap_m: number, opening_m_s: number): Link => ({
  key: node * 256 + on,
  nodes: [node],
  direction: normal,
  gap_m,
  opening_m_s,
  on,
});

const heldAxes = (held: Uint8Array, n: number): number[] =>
  held.length === 0 ? [] : [0, 1, 2].filter((c) => held[6 * n + c] !== 0);

/** Whether a node can move along a normal at all. */
const frameable = (held: Uint8Array, n: number, normal: readonly number[]): boolean => {
  if (held.length === 0) return true;
  const axes = heldAxes(held, n);
  return Math.hypot(...normal.map((v, c) => (axes.includes(c) ? 0 : v))) > 0.1;
};

const frame = (f: Frames, n: number, normal: [number, number, number], held: Uint8Array): void => {
  const axes = heldAxes(held, n);
  const free = normal.map((v, c) => (axes.slice(1).includes(c) ? 0 : v)) as [number, number, number];
  f.framed[n] = axesFor(f.axes, 9 * n, free, axes[0] ?? -1) ? 1 : 0;
};
