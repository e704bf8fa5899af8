import type { Ring } from './ring.ts';

/** What a rule would find on an outline that stands on the shelf, m. */
export interface OutlineMeasures {
  readonly height_m: number;
  readonly widest_m: number;
  /** At this height. */
  readonly widestAt_m: number;
  /** Between the two ends of the lip. */
  readonly lipWidth_m: number;
  readonly lipLeft_m: number;
  readonly lipRight_m: number;
  readonly footWidth_m: number;
  /** Middle of the lip less middle of the foot, to the right. */
  readonly lean_m: number;
}

/** Lip and foot end where a line that slopes so much touches from above or below. */
const SLOPE = 0.2;
const SLICES = 200;

/** The point that lies furthest in a direction. */
const furthest = (p: Ring, dx: number, dz: number): readonly [number, number] => {
  let best = 0;
  for (let i = 2; i < p.length; i += 2)
    if (dx * p[i] + dz * p[i + 1] > dx * p[best] + dz * p[best + 1]) best = i;
  return [p[best], p[best + 1]];
};

/** Width of a closed outline at a height, 0 where it is not; m. */
export const widthAt = (p: Ring, z: number): number => {
  let [left, right] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < p.length; i += 2) {
    const j = (i + 2) % p.length;
    if (p[i + 1] < z === p[j + 1] < z) continue;
    const x = p[i] + ((z - p[i + 1]) / (p[j + 1] - p[i + 1])) * (p[j] - p[i]);
    left = Math.min(left, x);
    right = Math.max(right, x);
  }
  return Math.max(0, right - left);
};

/** Measures of an outline: x to the right, z above the shelf, m. */
export const outlineMeasures = (points_m: Ring): OutlineMeasures => {
  const [, height_m] = furthest(points_m, 0, 1);
  const [lipL, lipR] = [furthest(points_m, -SLOPE, 1), furthest(points_m, SLOPE, 1)];
  const [footL, footR] = [furthest(points_m, -SLOPE, -1), furthest(points_m, SLOPE, -1)];
  let [widest_m, widestAt_m] = [0, 0];
  for (let k = 0; k <= SLICES; k++) {
    const z = height_m * (0.001 + (0.998 * k) / SLICES);
    const width = widthAt(points_m, z);
    if (width > widest_m) [widest_m, widestAt_m] = [width, z];
  }
  return {
    height_m,
    widest_m,
    widestAt_m,
    lipWidth_m: lipR[0] - lipL[0],
    lipLeft_m: lipL[1],
    lipRight_m: lipR[1],
    footWidth_m: footR[0] - footL[0],
    lean_m: (lipL[0] + lipR[0] - footL[0] - footR[0]) / 2,
  };
};
