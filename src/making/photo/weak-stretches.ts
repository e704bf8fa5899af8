import type { Ring } from './ring.ts';

/** A run of an outline that was hardly seen: look at it and correct it by hand. */
export interface Stretch {
  /** Points of the outline, first and last; runs on over the end where `to` is less than `from`. */
  readonly from: number;
  readonly to: number;
  /** Of the whole outline, 0 to 1. */
  readonly share: number;
  /** Its middle: x and height, m. */
  readonly middle_m: readonly [number, number];
}

const WEAK = 0.5;
/** Shorter runs than this share are let go: one speck is no stretch. */
const SHORTEST = 0.01;

/** Runs of points that were seen less than half plainly, longest first. */
export const weakStretches = (points_m: Ring, sure: Float64Array): Stretch[] => {
  const n = sure.length;
  const start = sure.findIndex((s) => s >= WEAK);
  if (start < 0) return [{ from: 0, to: n - 1, share: 1, middle_m: [points_m[0], points_m[1]] }];
  const found: Stretch[] = [];
  for (let k = 0; k < n; k++) {
    if (sure[(start + k) % n] >= WEAK) continue;
    let long = 1;
    while (k + long < n && sure[(start + k + long) % n] < WEAK) long++;
    const middle = (start + k + (long >> 1)) % n;
    if (long >= SHORTEST * n)
      found.push({
        from: (start + k) % n,
        to: (start + k + long - 1) % n,
        share: long / n,
        middle_m: [points_m[2 * middle], points_m[2 * middle + 1]],
      });
    k += long;
  }
  return found.sort((a, b) => b.share - a.share);
};
