import type { Outline } from './find-outline.ts';
import { type OutlineMeasures, outlineMeasures } from './outline-measures.ts';
import { evenly, nearestOn, type Ring } from './ring.ts';

/** How the piece that came out differs from the piece foreseen, seen from one side. */
export interface OutlineDifference {
  /** The measured outline laid over the foreseen one, m. */
  readonly placed_m: Ring;
  /** Added to the measured x to lay it over, m. */
  readonly shift_m: number;
  /** And turned about the foot so much, anticlockwise. */
  readonly turn_rad: number;
  /** At each point, how far outside (+) or inside (−) the foreseen outline the piece is, m. */
  readonly difference_m: Float64Array;
  /** Greatest by size, and where (point of the outline). */
  readonly greatest_m: number;
  readonly greatestAt: number;
  /** Root of the mean square, points weighed by how plainly they were seen, m. */
  readonly rms_m: number;
  readonly measured: OutlineMeasures;
  readonly foreseen: OutlineMeasures;
}

export interface LayOver {
  /** Also let it turn, where card or camera may not have been level. */
  readonly turn?: boolean;
}

const PASSES = 12;
/** No card stands further from level than this; more is the piece's own lean. */
const MOST_TURN_rad = (2 * Math.PI) / 180;
const FORESEEN_POINTS = 1500;

const inside = (ring: Ring, x: number, y: number): boolean => {
  let odd = false;
  for (let i = 0; i < ring.length; i += 2) {
    const j = (i + 2) % ring.length;
    if (ring[i + 1] > y === ring[j + 1] > y) continue;
    if (x < ring[i] + ((y - ring[i + 1]) / (ring[j + 1] - ring[i + 1])) * (ring[j] - ring[i])) odd = !odd;
  }
  return odd;
};

const moved = (p: Ring, pivot: number, shift: number, turn: number): Ring => {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const out = new Float64Array(p.length);
  for (let i = 0; i < p.length; i += 2) {
    out[i] = pivot + c * (p[i] - pivot) - s * p[i + 1] + shift;
    out[i + 1] = s * (p[i] - pivot) + c * p[i + 1];
  }
  return out;
};

const middleOf = (p: Ring): number => {
  let [left, right] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < p.length; i += 2) [left, right] = [Math.min(left, p[i]), Math.max(right, p[i])];
  return (left + right) / 2;
};

/** One correction of shift and turn by least squares of the distances along the foreseen outline's normals. */
const correction = (
  at: Ring,
  sure: Float64Array,
  ring: Ring,
  pivot: number,
  turn: boolean,
): readonly [number, number] => {
  let [aa, ab, bb, ar, br] = [0, 0, 0, 0, 0];
  for (let i = 0; i < sure.length; i++) {
    const [x, z] = [at[2 * i], at[2 * i + 1]];
    const { side } = nearestOn(ring, x, z);
    const next = (2 * side + 2) % ring.length;
    const [ux, uz] = [ring[next] - ring[2 * side], ring[next + 1] - ring[2 * side + 1]];
    const l = Math.hypot(ux, uz) || 1;
    const [nx, nz] = [uz / l, -ux / l];
    const off = (x - ring[2 * side]) * nx + (z - ring[2 * side + 1]) * nz;
    const [a, b] = [nx, turn ? -z * nx + (x - pivot) * nz : 0];
    // A stretch far off is the difference looked for, not a fault of the laying over: it pulls less (Huber, 3 mm).
    const w = sure[i] * Math.min(1, 0.003 / (Math.abs(off) + 1e-9));
    aa += w * a * a;
    ab += w * a * b;
    bb += w * b * b;
    ar -= w * a * off;
    br -= w * b * off;
  }
  if (!turn) return [aa > 0 ? ar / aa : 0, 0];
  const det = aa * bb - ab * ab;
  return det > 0 ? [(bb * ar - ab * br) / det, (aa * br - ab * ar) / det] : [0, 0];
};

/**
 * Lays a measured outline over the foreseen one (the shelf is known, so only sideways, and turned a little if wished) and
 * tells the difference along it.
 * @param foreseen anticlockwise, x across, z above the shelf, m
 */
export const compareOutlines = (outline: Outline, foreseen: Ring, lay: LayOver = {}): OutlineDifference => {
  const { points_m, sure } = outline;
  const ring = foreseen.length > 2 * FORESEEN_POINTS ? evenly(foreseen, FORESEEN_POINTS) : foreseen;
  const pivot = middleOf(points_m);
  let [shift, turn] = [middleOf(ring) - pivot, 0];
  for (let pass = 0; pass < PASSES; pass++) {
    const at = moved(points_m, pivot, shift, turn);
    const [ds, dt] = correction(at, sure, ring, pivot + shift, lay.turn === true);
    shift += ds;
    turn = Math.max(-MOST_TURN_rad, Math.min(MOST_TURN_rad, turn + dt));
    if (Math.abs(ds) < 1e-7 && Math.abs(dt) < 1e-7) break;
  }
  const placed_m = moved(points_m, pivot, shift, turn);
  const difference_m = new Float64Array(sure.length);
  let [greatestAt, sum, weight] = [0, 0, 0];
  for (let i = 0; i < sure.length; i++) {
    const [x, z] = [placed_m[2 * i], placed_m[2 * i + 1]];
    const { distance } = nearestOn(ring, x, z);
    difference_m[i] = inside(ring, x, z) ? -distance : distance;
    if (distance > Math.abs(difference_m[greatestAt])) greatestAt = i;
    sum += sure[i] * distance * distance;
    weight += sure[i];
  }
  return {
    placed_m,
    shift_m: shift,
    turn_rad: turn,
    difference_m,
    greatest_m: difference_m[greatestAt],
    greatestAt,
    rms_m: Math.sqrt(sum / (weight || 1)),
    measured: outlineMeasures(placed_m),
    foreseen: outlineMeasures(foreseen),
  };
};
