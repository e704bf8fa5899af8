import { INSIDE_m } from './contact-tolerances.ts';
import type { Link } from './link.ts';
import { gapTo, normalHere, openingOf, type Skin, type Surroundings } from './supports.ts';

/**
 * Links that keep an obstacle out of the inside of triangles: a post may stand between the nodes, and a hump or an
 * edge rises higher under the middle of a triangle than under its corners. Each triangle near an obstacle is asked at
 * the middle of its face and of its sides. What is narrower than about half a triangle can still slip between.
 */
const PLACES = [
  [1 / 3, 1 / 3, 1 / 3],
  [0.5, 0.5, 0],
  [0, 0.5, 0.5],
  [0.5, 0, 0.5],
] as const;

/** @param start first key these links may use */
export const insideLinks = (
  skin: Skin,
  triangles: Uint32Array,
  around: Surroundings,
  start: number,
): Link[] => {
  const links: Link[] = [];
  around.obstacles.forEach((o, k) => {
    const gap = new Float64Array(skin.wall_m.length);
    const p = skin.positions;
    for (let n = 0; n < gap.length; n++)
      gap[n] = gapTo(
        o,
        p[3 * n],
        p[3 * n + 1],
        p[3 * n + 2],
        around.time_s,
        skin.normals,
        3 * n,
        skin.wall_m[n],
      );
    for (let t = 0; t < triangles.length; t += 3) {
      const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
      const lowest = Math.min(gap[corners[0]], gap[corners[1]], gap[corners[2]]);
      if (lowest > around.reach_m + longestSide(p, corners)) continue;
      PLACES.forEach((w, place) => {
        const [x, y, z] = between(p, corners, w);
        const n = between(skin.normals, corners, w);
        const length = Math.hypot(...n) || 1;
        const wall = corners.reduce((s, c, i) => s + w[i] * skin.wall_m[c], 0);
        const g = gapTo(o, x, y, z, around.time_s, [n[0] / length, n[1] / length, n[2] / length], 0, wall);
        if (g > around.reach_m || g > lowest - INSIDE_m) return;
        const opening = openingOf(o, x, y, z, around);
        const normal = normalHere();
        links.push({
          key: start + 256 * (4 * (t / 3) + place) + k + 1,
          nodes: corners,
          direction: corners.flatMap((_, i) => normal.map((v) => w[i] * v)),
          gap_m: g,
          opening_m_s: opening,
          on: k + 1,
        });
      });
    }
  });
  return links;
};

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
