import type { Stations } from '../sizes.ts';
import type { Surface } from '../surface.ts';

/**
 * The wall unrolled. A place is x, the share of the way round times 2 pi, and y, the conformal height: up the wall
 * a step of y is as long in mm as the same step of x, `scale` mm each, so small figures keep their shape.
 * (The conformal map of a surface of revolution to a plane strip; M. do Carmo, Differential Geometry of Curves and
 * Surfaces, 4-2.) Lobes and ovals bend it a little; lengths round the ring stay true, since x is a share of way.
 */
export interface Unrolled {
  /** mm up the wall from the section's start, along the altered surface, at a place of the section (mm); and back. */
  readonly rise: (length: number) => number;
  readonly lengthOfRise: (rise: number) => number;
  readonly y: (length: number) => number;
  readonly lengthOfY: (y: number) => number;
  /** mm round the ring for one of x. */
  readonly scale: (length: number) => number;
  readonly x: (length: number, angle_rad: number) => number;
  readonly angle: (length: number, x: number) => number;
  /** Place of the section at a share of the outer line, on the wall. */
  readonly lengthAtAlong: (along: number) => number;
  /** Where wall begins and ends on the section. */
  readonly from: number;
  readonly to: number;
}

const TURN = 2 * Math.PI;

/** Piecewise linear through rising `at`. */
const lookUp = (at: Float64Array, value: Float64Array, x: number): number => {
  let [lo, hi] = [0, at.length - 1];
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if (at[mid] <= x) lo = mid;
    else hi = mid;
  }
  const step = at[hi] - at[lo];
  return value[lo] + (step > 0 ? (x - at[lo]) / step : 0) * (value[hi] - value[lo]);
};

/** Way round each station's ring up to each angle, as a share of the whole times 2 pi. */
const sharesOf = ({ length, round, way }: Stations): Float64Array => {
  const out = new Float64Array(length.length * (round + 1));
  for (let i = 0; i < length.length; i++) {
    const row = i * (round + 1);
    for (let k = 0; k < round; k++) out[row + k + 1] = out[row + k] + way[i * round + k];
    const whole = out[row + round];
    for (let k = 0; k <= round; k++) out[row + k] *= TURN / whole;
  }
  return out;
};

const lengthAtAlong = ({ section, total }: Surface, along: number): number => {
  const { length, along: shares, wallFrom } = section;
  let i = length.findIndex((s) => s >= wallFrom - 1e-9);
  while (i + 1 < length.length && shares[i + 1] < along) i++;
  if (i + 1 >= length.length) return total;
  const step = shares[i + 1] - shares[i];
  const f = step > 0 ? Math.min(1, Math.max(0, (along - shares[i]) / step)) : 0;
  return length[i] + f * (length[i + 1] - length[i]);
};

export const unroll = (surface: Surface, stations: Stations): Unrolled => {
  const { length, round, girth, stretch } = stations;
  const n = length.length;
  const [rise, conformal] = [new Float64Array(n), new Float64Array(n)];
  const wide = Float64Array.from(girth, (g, i) => Math.max(g, 0.05 * surface.radius(length[i]), 0.01));
  for (let i = 1; i < n; i++) {
    const step = 0.5 * (stretch[i - 1] + stretch[i]) * (length[i] - length[i - 1]);
    rise[i] = rise[i - 1] + step;
    conformal[i] = conformal[i - 1] + (2 * step) / (wide[i - 1] + wide[i]);
  }
  const shares = sharesOf(stations);
  const row = (s: number): { i: number; f: number } => {
    const at = Math.min(n - 1, Math.max(0, (s / length[n - 1]) * (n - 1)));
    const i = Math.min(n - 2, Math.floor(at));
    return { i, f: at - i };
  };
  const shareAt = (i: number, f: number, k: number): number => {
    const a = shares[i * (round + 1) + k];
    return a + f * (shares[(i + 1) * (round + 1) + k] - a);
  };
  const x = (s: number, angle: number): number => {
    const { i, f } = row(s);
    const laps = Math.floor(angle / TURN);
    const at = ((angle - laps * TURN) / TURN) * round;
    const k = Math.min(round - 1, Math.floor(at));
    const low = shareAt(i, f, k);
    return laps * TURN + low + (at - k) * (shareAt(i, f, k + 1) - low);
  };
  const angle = (s: number, x_: number): number => {
    const { i, f } = row(s);
    const laps = Math.floor(x_ / TURN);
    const want = x_ - laps * TURN;
    let [lo, hi] = [0, round];
    while (hi - lo > 1) {
      const mid = (lo + hi) >> 1;
      if (shareAt(i, f, mid) <= want) lo = mid;
      else hi = mid;
    }
    const low = shareAt(i, f, lo);
    return (TURN * (lo + (want - low) / (shareAt(i, f, hi) - low))) / round + laps * TURN;
  };
  return {
    rise: (s) => lookUp(length, rise, s),
    lengthOfRise: (v) => lookUp(rise, length, v),
    y: (s) => lookUp(length, conformal, s),
    lengthOfY: (y) => lookUp(conformal, length, y),
    scale: (s) => lookUp(length, wide, s),
    x,
    angle,
    lengthAtAlong: (along) => lengthAtAlong(surface, along),
    from: surface.section.hasFloor ? surface.section.wallFrom : 0,
    to: surface.total,
  };
};
