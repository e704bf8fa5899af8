import type { Camera } from './camera.ts';
import type { Outline } from './find-outline.ts';
import { looksWiderBy_m } from './round-body.ts';

/** An outline as an unloading file keeps it. */
export interface UnloadingOutline {
  readonly from_deg: number;
  readonly points_mm: [number, number][];
  readonly plusMinus_mm: number;
}

/**
 * Four points in five are no further off than this (a guess; made-up pictures do several times better): the edge itself,
 * and the bend of the lens and stretch of the paper, which grow with the piece.
 */
const EDGE_m = 0.0003;
const PER_SIZE = 0.004;
const POINTS = 400;
/** Taken where nobody said how far the camera stood. */
const NEAREST_m = 1;

/** How well an outline is known, ±, m; without a camera a round piece looks too wide by an amount not known. */
export const outlinePlusMinus_m = ({ points_m: p }: Outline, camera?: Camera): number => {
  let [left, right, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (let i = 0; i < p.length; i += 2) {
    [left, right] = [Math.min(left, p[i]), Math.max(right, p[i])];
    high = Math.max(high, p[i + 1]);
  }
  const sight = camera ? 0 : looksWiderBy_m((right - left) / 2, NEAREST_m);
  return EDGE_m + PER_SIZE * Math.max(right - left, high) + sight;
};

/** Fewer points, in mm and rounded to a hundredth, for the outline of a piece in an unloading file. */
export const outlineForUnloading = (
  outline: Outline,
  from_deg: number,
  plusMinus_m: number,
): UnloadingOutline => {
  const n = outline.sure.length;
  const step = Math.max(1, n / POINTS);
  const hundredth = (x_m: number): number => Math.round(1e5 * x_m) / 100;
  const points_mm: [number, number][] = [];
  for (let k = 0; k < n; k += step) {
    const i = 2 * Math.floor(k);
    points_mm.push([hundredth(outline.points_m[i]), hundredth(outline.points_m[i + 1])]);
  }
  return { from_deg, points_mm, plusMinus_mm: hundredth(plusMinus_m) };
};
