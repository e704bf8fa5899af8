import type { Distance } from '../props/prop.ts';
import { type Body, shiftBody } from './body.ts';

/** How a hand brings a rigid piece to its supports before letting go: straight along one direction until it touches. */

/** Closer than this counts as there, m. */
const THERE_m = 1e-6;
const MOST_LOOKS = 400;

/**
 * How far the piece can go along a direction before any skin point meets a support, m; found by walking each point by
 * its distance, which can never overshoot (J. C. Hart, The Visual Computer 12 (1996) 527-545).
 */
export const freeWay = (
  body: Body,
  support: Distance,
  points: number,
  along: readonly [number, number, number],
  most_m: number,
): number => {
  const out = new Float64Array(4);
  const { positions: p, normals: n } = body;
  let least = most_m;
  for (let node = 0; node < points; node++) {
    const i = 3 * node;
    let way = 0;
    for (let look = 0; look < MOST_LOOKS && way < least; look++) {
      support(p[i] + way * along[0], p[i + 1] + way * along[1], p[i + 2] + way * along[2], out);
      const facing = n[i] * out[0] + n[i + 1] * out[1] + n[i + 2] * out[2];
      const gap = out[3] - body.half_m[node] * Math.abs(facing);
      if (gap < THERE_m) break;
      way += gap;
    }
    least = Math.min(least, way);
  }
  return least;
};

/** Lowers the piece on to its supports, the shelf first, from above all of them. */
export const lower = (body: Body, supports: readonly Distance[], above_m: number): void => {
  let low = Infinity;
  for (let i = 2; i < body.positions.length; i += 3)
    low = Math.min(low, body.positions[i] - body.half_m[(i / 3) | 0]);
  shiftBody(body, 0, 0, above_m - low);
  const way = Math.min(
    ...supports.map((s, i) =>
      freeWay(body, s, i === 0 ? body.nodes : body.half_m.length, [0, 0, -1], 2 * above_m + 1),
    ),
  );
  shiftBody(body, 0, 0, -way);
};

/** Slides the piece level towards a support until it touches, from wherever it stands. */
export const slideTo = (body: Body, support: Distance, towards_rad: number): void => {
  const along = [Math.cos(towards_rad), Math.sin(towards_rad), 0] as const;
  const back = 6 * body.size_m + 2;
  shiftBody(body, -back * along[0], -back * along[1], 0);
  const way = freeWay(body, support, body.half_m.length, along, 2 * back);
  // Nothing there to touch: it stays where it was.
  const go = way < 2 * back ? way : back;
  shiftBody(body, go * along[0], go * along[1], 0);
};
