import type { CreepStep } from './creep.ts';
import { extentOf } from './extent.ts';
import { triangleAreas } from './geometry.ts';
import { type RigidTurn, rigidTurn, turnAbout } from './rigid-turn.ts';

/** The part of a step that a film needs. */
export type FilmStep = Pick<CreepStep, 'time_s' | 'positions' | 'rates' | 'thickness_m'>;

const stepBefore = (steps: readonly FilmStep[], time_s: number): number => {
  let k = 0;
  while (k < steps.length - 2 && steps[k + 1].time_s <= time_s) k++;
  return k;
};

/**
 * Node positions (3 × nodes, m) at any time between the first and last step: cubic Hermite through the
 * steps' positions and speeds. Times outside are clamped.
 *
 * A speed that differs from the node's mean speed over the step by more than that mean is cut back to it: where a contact
 * comes or goes within a step the speeds at its ends say little of the way, and the bare cubic swings out (seen on random
 * pieces: a tenth of a millimetre into the shelf).
 */
export const positionsAt = (steps: readonly FilmStep[], time_s: number): Float64Array => {
  if (steps.length === 1) return steps[0].positions.slice();
  const k = stepBefore(steps, time_s);
  const a = steps[k];
  const b = steps[k + 1];
  const dt = b.time_s - a.time_s;
  const s = Math.min(1, Math.max(0, (time_s - a.time_s) / dt));
  if (mayHaveTurned(a.positions, b.positions)) {
    const turn = rigidTurn(a.positions, b.positions);
    if (turn.angle_rad > TURNED_rad) return between(turn, a.positions, b.positions, s);
  }
  const bendA = s * (1 - s) * (1 - s);
  const bendB = s * s * (s - 1);
  const out = new Float64Array(a.positions.length);
  for (let n = 0; n < out.length / 3; n++) {
    const shareA = bendA * trusted(a, b, a.rates, n, dt);
    const shareB = bendB * trusted(a, b, b.rates, n, dt);
    for (let c = 0; c < 3; c++) {
      const from = a.positions[3 * n + c];
      const way = b.positions[3 * n + c] - from;
      const swing = shareA * (dt * a.rates[6 * n + c] - way) + shareB * (dt * b.rates[6 * n + c] - way);
      out[3 * n + c] = from + s * way + swing;
    }
  }
  return out;
};

/** A piece that turned by more than this in one step slipped or fell over: it goes as a whole, not each node straight. */
const TURNED_rad = 0.1;
/** So turned, a piece has points that went further than this part of its size: a quick look spares finding the turn. */
const WENT = 0.02;

const mayHaveTurned = (a: Float64Array, b: Float64Array): boolean => {
  const went = WENT * extentOf(a);
  let most = 0;
  for (let i = 0; i < a.length; i += 3)
    most = Math.max(most, (b[i] - a[i]) ** 2 + (b[i + 1] - a[i + 1]) ** 2 + (b[i + 2] - a[i + 2]) ** 2);
  return most > went * went;
};

/** Between two shapes that differ by a turn and a little more: the turn and the rest each taken in its part. */
const between = (turn: RigidTurn, a: Float64Array, b: Float64Array, s: number): Float64Array => {
  const { from, to, axis, angle_rad } = turn;
  const out = new Float64Array(a.length);
  const back = new Float64Array(3);
  for (let n = 0; n < a.length; n += 3) {
    turnAbout(axis, -angle_rad, [b[n] - to[0], b[n + 1] - to[1], b[n + 2] - to[2]], back, 0);
    const [x, y, z] = [0, 1, 2].map((c) => (1 - s) * (a[n + c] - from[c]) + s * back[c]);
    turnAbout(axis, s * angle_rad, [x, y, z], out, n);
    for (let c = 0; c < 3; c++) out[n + c] += (1 - s) * from[c] + s * to[c];
  }
  return out;
};

/** How much of a node's speed is believed beyond its mean over the step: all, or as much as the mean itself. */
const trusted = (a: FilmStep, b: FilmStep, rates: Float64Array, n: number, dt: number): number => {
  let way2 = 0;
  let swing2 = 0;
  for (let c = 0; c < 3; c++) {
    const way = b.positions[3 * n + c] - a.positions[3 * n + c];
    way2 += way * way;
    swing2 += (dt * rates[6 * n + c] - way) ** 2;
  }
  return swing2 > way2 ? Math.sqrt(way2 / swing2) : 1;
};

/** Wall of each triangle (m) at a time, linear between steps. */
export const wallAt = (steps: readonly FilmStep[], time_s: number): Float64Array => {
  if (steps.length === 1) return steps[0].thickness_m.slice();
  const k = stepBefore(steps, time_s);
  const a = steps[k];
  const b = steps[k + 1];
  const s = Math.min(1, Math.max(0, (time_s - a.time_s) / (b.time_s - a.time_s)));
  return a.thickness_m.map((h, t) => (1 - s) * h + s * b.thickness_m[t]);
};

/**
 * Wall of each triangle (m) for a shape between steps: it holds what lies between the volumes at the two steps, whatever
 * way the shape took (where a step is long, areas on the way are not between those at its ends).
 * @param areas of the shape at `time_s`, one a triangle, m²
 */
export const wallHolding = (
  steps: readonly FilmStep[],
  triangles: Uint32Array,
  areas: Float64Array,
  time_s: number,
): Float64Array => {
  if (steps.length === 1) return steps[0].thickness_m.slice();
  const k = stepBefore(steps, time_s);
  const [a, b] = [steps[k], steps[k + 1]];
  const s = Math.min(1, Math.max(0, (time_s - a.time_s) / (b.time_s - a.time_s)));
  const before = new Float64Array(areas.length);
  const after = new Float64Array(areas.length);
  triangleAreas(a.positions, triangles, before);
  triangleAreas(b.positions, triangles, after);
  return areas.map(
    (area, t) => ((1 - s) * a.thickness_m[t] * before[t] + s * b.thickness_m[t] * after[t]) / area,
  );
};
