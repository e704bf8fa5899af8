import type { Distance } from './prop.ts';

/**
 * Exact signed distances of simple solids from those of their outlines: an outline (across, up) is turned round an
 * upright axis or drawn along x. Outside an edge the distance is that to the edge, so |grad d| = 1 everywhere but on
 * the ridges where two faces are equally near.
 */

/** Writes the gradient (across, up) to out[0..1] and the signed distance to out[2], m. */
export type Profile = (across: number, up: number, out: Float64Array) => void;

const length = (a: number, b: number): number => Math.sqrt(a * a + b * b);

/** Joins two signed distances at right angles, as where a flat top meets an upright side; gradient shares, distance. */
const joined = new Float64Array(3);
const corner = (a: number, b: number): void => {
  const both = a > 0 && b > 0;
  const d = both ? length(a, b) : Math.max(a, b);
  joined[0] = both ? a / d : a > b ? 1 : 0;
  joined[1] = both ? b / d : a > b ? 0 : 1;
  joined[2] = d;
};

/** A band from `inner` to `outer` across, up to `top`; on below. A bar round the axis, or with inner = -outer a block. */
export const band =
  (inner: number, outer: number, top: number): Profile =>
  (across, up, out) => {
    const middle = 0.5 * (inner + outer);
    const side = across < middle ? -1 : 1;
    corner(side * (across - middle) - 0.5 * (outer - inner), up - top);
    out[0] = side * joined[0];
    out[1] = joined[1];
    out[2] = joined[2];
  };

const write = (out: Float64Array, across: number, up: number, d: number): void => {
  out[0] = across;
  out[1] = up;
  out[2] = d;
};

/** Takes the point at (-du, -dv) from here as the nearest so far, where it is. */
const orFrom = (du: number, dv: number, out: Float64Array): void => {
  const d = length(du, dv);
  if (out[2] <= d) return;
  if (d > 0) write(out, du / d, dv / d, d);
  else write(out, 0, 1, 0);
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
    const v = up - centre;
    const away = length(u, v);
    const hollow = radius - away;
    if (u < outer && up < top && hollow < 0) {
      if (hollow > up - top && hollow > u - outer) write(out, -u / away, -v / away, hollow);
      else if (up - top > u - outer) write(out, 0, 1, up - top);
      else write(out, 1, 0, u - outer);
    } else {
      out[2] = Number.POSITIVE_INFINITY;
      if (hollow > 0 && away > 0 && -v >= away * Math.cos(open)) write(out, -u / away, -v / away, hollow);
      orFrom(u - Math.min(Math.max(u, inner), outer), up - top, out);
      orFrom(u - outer, up - Math.min(up, top), out);
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
    const away = length(x - x0, y - y0);
    profile(away, z, flat);
    out[0] = flat[0] * (away > 0 ? (x - x0) / away : 1);
    out[1] = away > 0 ? (flat[0] * (y - y0)) / away : 0;
    out[2] = flat[1];
    out[3] = rounded(flat[2], edge);
  };
};

/** The profile drawn along x, `half` to either side of x0, cut off square. */
export const drawn = (profile: Profile, x0: number, y0: number, half: number, edge: number): Distance => {
  const flat = new Float64Array(3);
  return (x, y, z, out) => {
    profile(y - y0, z, flat);
    corner(Math.abs(x - x0) - half, flat[2]);
    out[0] = x < x0 ? -joined[0] : joined[0];
    out[1] = joined[1] * flat[0];
    out[2] = joined[1] * flat[1];
    out[3] = rounded(joined[2], edge);
  };
};
