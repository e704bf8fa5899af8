import type { Fit } from './fit-form.ts';
import { movedBack } from './motion.ts';
import type { Target } from './target.ts';

/** What throwing cannot make: pieces come off the wheel round their axis, square on their foot. */
export interface OffAxis {
  /** How far the lip is off to one side over a level foot, mm. */
  readonly lean_mm: number;
  /** Towards which angle of the drawing, degrees. */
  readonly towards_deg: number;
  /** The most the middle at any height is off the straight line from foot to lip, mm. */
  readonly bend_mm: number;
}

const BANDS = 10;
/** Fewer nodes at a height tell no middle. */
const ENOUGH = 5;

type Middle = readonly [x: number, y: number, up: number];

/**
 * The middle of the target at each height off the fitted form's axis: a ring moved sideways by d is off by d·cos(angle), so
 * that twice the mean with the cosine is d.
 */
const middles = (fit: Fit, target: Target, flat: Float64Array): Middle[] => {
  const wall = fit.places.stretch.reduce((a, b) => Math.max(a, b), 0);
  const bands = Array.from({ length: BANDS }, () => [0, 0, 0, 0, 0]);
  fit.off_mm.forEach((off, i) => {
    if (target.counts[i] === 0 || fit.places.stretch[i] < wall) return;
    const band = bands[Math.min(BANDS - 1, Math.floor(BANDS * fit.places.share[i]))];
    const a = fit.places.angle_rad[i];
    [1, flat[3 * i + 2], off * Math.cos(a), off * Math.sin(a)].forEach((v, k) => {
      band[k] += v;
    });
  });
  return bands
    .filter(([n]) => n >= ENOUGH)
    .map(([n, up, x, y]): Middle => [(2 * x) / n, (2 * y) / n, up / n]);
};

/** Slopes (rise over run, x and y) of the plane through the ring the target stands on. */
const footSlope = (fit: Fit, flat: Float64Array): readonly [number, number] => {
  const { edge, stretch, share } = fit.places;
  const wall = stretch.reduce((a, b) => Math.max(a, b), 0);
  const foot = Array.from(edge, (_, i) => i).filter(
    (i) => edge[i] === 1 && (wall > 0 ? stretch[i] === wall - 1 : share[i] < 0.5),
  );
  const mean = (k: number): number => foot.reduce((s, i) => s + flat[3 * i + k], 0) / (foot.length || 1);
  const [x0, y0, z0] = [mean(0), mean(1), mean(2)];
  let [xz, yz, xx, yy] = [0, 0, 0, 0];
  for (const i of foot) {
    const [x, y, z] = [flat[3 * i] - x0, flat[3 * i + 1] - y0, flat[3 * i + 2] - z0];
    xz += x * z;
    yz += y * z;
    xx += x * x;
    yy += y * y;
  }
  return [xx > 0 ? xz / xx : 0, yy > 0 ? yz / yy : 0];
};

export const offAxis = (fit: Fit, target: Target): OffAxis => {
  const flat = new Float64Array(target.positions_mm.length);
  movedBack(fit.motion, target.positions_mm, target.centre_mm, flat);
  const line = middles(fit, target, flat);
  if (line.length < 3) return { lean_mm: 0, towards_deg: 0, bend_mm: 0 };
  const [first, last] = [line[0], line[line.length - 1]];
  const high = last[2] - first[2] || 1;
  const slope = footSlope(fit, flat);
  // Over a foot that slopes up towards x the piece, once that foot lies level, leans towards +x by slope · height.
  const lean = [0, 1].map((k) => last[k] - first[k] + slope[k] * high);
  const bend = line.reduce((most, m) => {
    const s = (m[2] - first[2]) / high;
    const off = [0, 1].map((k) => m[k] - first[k] - s * (last[k] - first[k]));
    return Math.max(most, Math.hypot(off[0], off[1]));
  }, 0);
  return {
    lean_mm: Math.hypot(lean[0], lean[1]),
    towards_deg: (Math.atan2(lean[1], lean[0]) * 180) / Math.PI,
    bend_mm: bend,
  };
};
