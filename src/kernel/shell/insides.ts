import { INSIDE_m } from './contact-tolerances.ts';
import type { Link } from './link.ts';
import type { Obstacle } from './obstacle.ts';
import { gapTo, normalHere, openingOf, type Skin, type Surroundings } from './supports.ts';

/**
 * Links that keep an obstacle out of the inside of triangles: a post may stand between the nodes, and a hump or an
 * edge rises higher under the middle of a triangle than under its corners. In each triangle near an obstacle its nearest
 * point is sought, from the middle outwards in halving steps. What is narrower than about an eighth of a triangle can
 * still slip between.
 */
const FIRST_STEP = 1 / 3;
const HALVINGS = 4;
const WAYS = [
  [1, -1, 0],
  [-1, 1, 0],
  [0, 1, -1],
  [0, -1, 1],
  [1, 0, -1],
  [-1, 0, 1],
] as const;

type Weights = readonly [number, number, number];

/** @param start first key these links may use: 256 a triangle */
export const insideLinks = (
  skin: Skin,
  triangles: Uint32Array,
  around: Surroundings,
  start: number,
): Link[] => {
  const links: Link[] = [];
  around.obstacles.forEach((o, k) => {
    const gap = cornerGaps(o, skin, around.time_s);
    for (let t = 0; t < triangles.length; t += 3) {
      const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
      const lowest = Math.min(gap[corners[0]], gap[corners[1]], gap[corners[2]]);
      if (lowest > around.reach_m + longestSide(skin.positions, corners)) continue;
      const w = nearestInside(o, skin, corners, around.time_s);
      const g = gapInside(o, skin, corners, w, around.time_s);
      if (g > around.reach_m || g > lowest - INSIDE_m) continue;
      const [x, y, z] = between(skin.positions, corners, w);
      const opening = openingOf(o, x, y, z, around);
      const normal = normalHere();
      links.push({
        key: start + 256 * (t / 3) + k + 1,
        nodes: corners,
        direction: corners.flatMap((_, i) => normal.map((v) => w[i] * v)),
        gap_m: g,
        opening_m_s: opening,
        on: k + 1,
      });
    }
  });
  return links;
};

const cornerGaps = (o: Obstacle, skin: Skin, time_s: number): Float64Array => {
  const { positions: p, normals, wall_m } = skin;
  return wall_m.map((h, n) => gapTo(o, p[3 * n], p[3 * n + 1], p[3 * n + 2], time_s, normals, 3 * n, h));
};

/** Gap at a point inside a triangle; the obstacle's normal there is left behind (`normalHere`). */
const gapInside = (
  o: Obstacle,
  skin: Skin,
  corners: readonly number[],
  w: Weights,
  time_s: number,
): number => {
  const [x, y, z] = between(skin.positions, corners, w);
  const n = between(skin.normals, corners, w);
  const length = Math.hypot(...n) || 1;
  const wall = corners.reduce((s, c, i) => s + w[i] * skin.wall_m[c], 0);
  return gapTo(o, x, y, z, time_s, [n[0] / length, n[1] / length, n[2] / length], 0, wall);
};

/** Where in a triangle an obstacle is nearest: pattern search from its middle. */
const nearestInside = (o: Obstacle, skin: Skin, corners: readonly number[], time_s: number): Weights => {
  let best: Weights = [1 / 3, 1 / 3, 1 / 3];
  let least = gapInside(o, skin, corners, best, time_s);
  let step = FIRST_STEP;
  for (let k = 0; k < HALVINGS; k++) {
    const from = best;
    for (const way of WAYS) {
      const w: Weights = [from[0] + step * way[0], from[1] + step * way[1], from[2] + step * way[2]];
      if (Math.min(...w) < -1e-12) continue;
      const g = gapInside(o, skin, corners, w, time_s);
      if (g < least - NEARER_m) {
        least = g;
        best = w;
      }
    }
    step /= 2;
  }
  return best;
};
/** On a flat top all points are equally near; the middle one is as good as any. */
const NEARER_m = 1e-7;

const between = (
  v: Float64Array,
  c: readonly number[],
  w: readonly number[],
): readonly [number, number, number] => {
  const at = (k: number) => w[0] * v[3 * c[0] + k] + w[1] * v[3 * c[1] + k] + w[2] * v[3 * c[2] + k];
  return [at(0), at(1), at(2)];
};

const longestSide = (p: Float64Array, c: readonly number[]): number => {
  const side = (a: number, b: number) =>
    Math.hypot(p[3 * a] - p[3 * b], p[3 * a + 1] - p[3 * b + 1], p[3 * a + 2] - p[3 * b + 2]);
  return Math.max(side(c[0], c[1]), side(c[1], c[2]), side(c[2], c[0]));
};
