import type { Distance } from './prop.ts';

/**
 * Exact signed distances of simple solids from those of their outlines: an outline (across, up) is turned round an
 * upright axis or drawn along x. Outside an edge the distance is that to the edge, so |grad d| = 1 everywhere but on
 * the ridges where two faces are equally near.
 */

/** Writes the gradient (across, up) to out[0..1] and the signed distance to out[2], m. */
export type Profile = (across: number, up: number, out: Float64Array) => void;

/** Joins two signed distances at right angles, as where a flat top meets an upright side; gradient shares in a and b. */
const corner = (a: number, b: number): readonly [number, number, number] => {
  if (a > 0 && b > 0) {
    const d = Math.hypot(a, b);
    return [a / d, b / d, d];
  }
  return a > b ? [1, 0, a] : [0, 1, b];
};

/** A band from `inner` to `outer` across, up to `top`; on below. A bar round the axis, or with inner = -outer a block. */
export const band =
  (inner: number, outer: number, top: number): Profile =>
  (across, up, out) => {
    const middle = 0.5 * (inner + outer);
    const side = across < middle ? -1 : 1;
    const [a, b, d] = corner(side * (across - middle) - 0.5 * (outer - inner), up - top);
    out[0] = side * a;
    out[1] = b;
    out[2] = d;
  };

const fromPoint = (du: number, dv: number, out: Float64Array): void => {
  const d = Math.hypot(du, dv);
  if (out[2] <= d) return;
  out[0] = d > 0 ? du / d : 0;
  out[1] = d > 0 ? dv / d : 1;
  out[2] = d;
};

/**
 * A block as wide as ±outer with a round hollow of `radius` about (0, centre) let into its top; the hollow is open
 * over ±`open` rad from its lowest point, and the arms end level.
 */
export const hollowed = (radius: number, centre: number, open: number, outer: number): Profile => {
  const inner = radius * Math.sin(open);
  const top = centre - radius * Math.cos(open);
  return (across, up, out) => {
    const u = Math.abs(across);
    const away = Math.hypot(u, up - centre);
    if (u < outer && up < top && away > radius) {
      const hollow = radius - away;
      const d = Math.max(u - outer, up - top, hollow);
      const [gu, gv] = d === hollow ? [-u / away, (centre - up) / away] : d === up - top ? [0, 1] : [1, 0];
      out.set([gu, gv, d]);
    } else {
      out[2] = Number.POSITIVE_INFINITY;
      if (away < radius && Math.atan2(u, centre - up) <= open && away > 0)
        out.set([-u / away, (centre - up) / away, radius - away]);
      fromPoint(u - Math.min(Math.max(u, inner), outer), up - top, out);
      fromPoint(u - outer, up - Math.min(up, top), out);
    }
    if (across < 0) out[0] = -out[0];
  };
};

/** Rounds every edge by r; the profile is drawn smaller by r all round. */
const rounded = (d: number, r: number): number => d - r;

/** The profile turned round the upright axis through x, y. */
export const turned = (profile: Profile, x0: number, y0: number, edge: number): Distance => {
  const flat = new Float64Array(3);
  return (x, y, z, out) => {
    const away = Math.hypot(x - x0, y - y0);
    profile(away, z, flat);
    const [ex, ey] = away > 0 ? [(x - x0) / away, (y - y0) / away] : [1, 0];
    out[0] = flat[0] * ex;
    out[1] = flat[0] * ey;
    out[2] = flat[1];
    out[3] = rounded(flat[2], edge);
  };
};

/** The profile drawn along x, `half` to either side of x0, cut off square. */
export const drawn = (profile: Profile, x0: number, y0: number, half: number, edge: number): Distance => {
  const flat = new Float64Array(3);
  return (x, y, z, out) => {
    profile(y - y0, z, flat);
    const [a, b, d] = corner(Math.abs(x - x0) - half, flat[2]);
    out[0] = x < x0 ? -a : a;
    out[1] = b * flat[0];
    out[2] = b * flat[1];
    out[3] = rounded(d, edge);
  };
};
