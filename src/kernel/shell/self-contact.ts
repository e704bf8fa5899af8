import { nodeNormals } from './geometry.ts';

/**
 * Whether a wall has met another part of itself: two nodes nearer than the wall is thick that were clearly
 * further apart at the start, with their skins facing each other. It sees the meeting, it does not stop it.
 */
export interface WallMeeting {
  readonly a: number;
  readonly b: number;
}

/** Skins count as facing when their outward normals point against each other at least this much. */
const FACING = -0.3;
/** Pairs closer than this many walls at the start are neighbours, not a meeting. */
const APART = 2.5;

/**
 * @param start positions at the beginning, @param now positions now (3 × nodes, m)
 * @param wall_m wall at each node @returns the first meeting found, or undefined
 */
export const findMeeting = (
  start: Float64Array,
  now: Float64Array,
  wall_m: Float64Array,
  triangles: Uint32Array,
): WallMeeting | undefined => {
  const nodes = wall_m.length;
  let thickest = 0;
  for (const h of wall_m) thickest = Math.max(thickest, h);
  const normals = new Float64Array(now.length);
  nodeNormals(now, triangles, normals);
  const cell = (n: number, c: number): number => Math.floor(now[3 * n + c] / thickest);
  const key = (x: number, y: number, z: number): number =>
    ((x & 1023) << 20) | ((y & 1023) << 10) | (z & 1023);
  const buckets = new Map<number, number[]>();
  for (let n = 0; n < nodes; n++) {
    const k = key(cell(n, 0), cell(n, 1), cell(n, 2));
    const list = buckets.get(k);
    if (list) list.push(n);
    else buckets.set(k, [n]);
  }
  const gap = (p: Float64Array, a: number, b: number): number =>
    Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);
  for (let a = 0; a < nodes; a++)
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++)
        for (let dz = -1; dz <= 1; dz++)
          for (const b of buckets.get(key(cell(a, 0) + dx, cell(a, 1) + dy, cell(a, 2) + dz)) ?? []) {
            if (b <= a) continue;
            const wall = 0.5 * (wall_m[a] + wall_m[b]);
            if (gap(now, a, b) > wall || gap(start, a, b) < APART * wall) continue;
            const facing =
              normals[3 * a] * normals[3 * b] +
              normals[3 * a + 1] * normals[3 * b + 1] +
              normals[3 * a + 2] * normals[3 * b + 2];
            if (facing < FACING) return { a, b };
          }
  return undefined;
};
