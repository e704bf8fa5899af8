import { type Laid, placeFrom } from './lay.ts';
import type { Unrolled } from './unroll.ts';

/** A laid outline closely sampled: mm about its spot, and where that is on the unrolled wall. */
export interface LineOnWall {
  readonly u: Float64Array;
  readonly v: Float64Array;
  readonly length: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** 1 where it turns sharply: a node must stand there. */
  readonly corner: Uint8Array;
  readonly perimeter: number;
  /** Its longest piece on the unrolled wall. */
  readonly longest: number;
}

/** Samples round an outline, besides its own corners. */
const SAMPLES = 48;
/** A turn sharper than this is a corner, rad; chords of a curve turn less. */
const CORNER = 0.6;

export const lineOnWall = (wall: Unrolled, laid: Laid): LineOnWall => {
  const { x: px, y: py } = laid.polygon;
  const n = px.length;
  let perimeter = 0;
  for (let i = 0; i < n; i++) perimeter += Math.hypot(px[(i + 1) % n] - px[i], py[(i + 1) % n] - py[i]);
  const u: number[] = [];
  const v: number[] = [];
  const corner: number[] = [];
  for (let i = 0; i < n; i++) {
    const [before, next] = [(i + n - 1) % n, (i + 1) % n];
    const [ax, ay] = [px[i] - px[before], py[i] - py[before]];
    const [bx, by] = [px[next] - px[i], py[next] - py[i]];
    const turn = Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by));
    const pieces = Math.max(1, Math.ceil((SAMPLES * Math.hypot(bx, by)) / perimeter));
    for (let k = 0; k < pieces; k++) {
      u.push(px[i] + (bx * k) / pieces);
      v.push(py[i] + (by * k) / pieces);
      corner.push(k === 0 && turn > CORNER ? 1 : 0);
    }
  }
  const places = u.map((_, i) => placeFrom(wall, laid.spot, u[i], v[i]));
  const [x, y] = [places.map((p) => p.x), places.map((p) => wall.y(p.length))];
  const longest = x.reduce((most, _, i) => {
    const j = (i + 1) % x.length;
    return Math.max(most, Math.hypot(x[j] - x[i], y[j] - y[i]));
  }, 0);
  return {
    u: Float64Array.from(u),
    v: Float64Array.from(v),
    length: Float64Array.from(places, (p) => p.length),
    x: Float64Array.from(x),
    y: Float64Array.from(y),
    corner: Uint8Array.from(corner),
    perimeter,
    longest,
  };
};
