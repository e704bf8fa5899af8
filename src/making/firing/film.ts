import { valueAt } from '../../kernel/numerics/between.ts';
import { type FilmStep, positionsAt, wallHolding } from '../../kernel/shell/film.ts';
import { triangleAreas } from '../../kernel/shell/geometry.ts';
import { wallAtNodes } from '../../kernel/shell/soft-shape.ts';
import type { Clay } from '../clay/clay.ts';
import { type ClayHistory, clayAt } from '../clay/clay-history.ts';
import type { Frame } from './firing.ts';

/**
 * From the creep solver's steps (bone-dry lengths, creep clock) to pictures at true size along the firing's own
 * time. The clock has stood still where nothing was soft, so the pictures are spread over time, shrinkage and
 * movement together: a scrubber at even speed then shows something happening all the way.
 */
const TIME_SHARE = 0.3;
const SHRINK_SHARE = 0.25;

/** `count` times from start to `end_s`, spread evenly over what happens. */
export const filmTimes = (history: ClayHistory, end_s: number, count: number): number[] => {
  const { time_s: t, creepClockUnshrunk: c, linearScale: L } = history;
  const last = t.length - 1;
  const shrinkAll = 1 - L[last] || 1;
  const clockAll = c[last] || 1;
  const eventful = (i: number): number =>
    (TIME_SHARE * (t[i] - t[0])) / (t[last] - t[0]) +
    (SHRINK_SHARE * (1 - L[i])) / shrinkAll +
    ((1 - TIME_SHARE - SHRINK_SHARE) * c[i]) / clockAll;
  const times: number[] = [];
  let i = 0;
  for (let k = 0; k < count; k++) {
    const want = (eventful(last) * k) / (count - 1);
    while (i < last - 1 && eventful(i + 1) < want) i++;
    const a = eventful(i);
    const b = eventful(i + 1);
    const f = b > a ? Math.min(1, Math.max(0, (want - a) / (b - a))) : 0;
    const time = t[i] + f * (t[i + 1] - t[i]);
    if (time < end_s) times.push(time);
  }
  times.push(end_s);
  return times;
};

/** What is filmed. */
export interface Filmed {
  readonly triangles: Uint32Array;
  /** See `skinShareOf`. */
  readonly skinShare: Float64Array;
}

/**
 * One picture at a time of the firing. `steps` run on the unshrunk creep clock.
 * @param clear moves what lies in shelf or props out of them; each wall then holds the clay it held before
 */
export const frameAt = (
  steps: readonly FilmStep[],
  { triangles, skinShare }: Filmed,
  clay: Clay,
  history: ClayHistory,
  time_s: number,
  clear: (frame: Frame) => Float64Array = (frame) => frame.positions,
): Frame => {
  const moment = clayAt(clay, history, time_s);
  const clock = valueAt(history.time_s, history.creepClockUnshrunk, time_s);
  const positions = positionsAt(steps, clock);
  const L = moment.linearScale;
  const wallOf = (shape: Float64Array): Float64Array => {
    const areas = new Float64Array(triangles.length / 3);
    triangleAreas(shape, triangles, areas);
    const wall = wallHolding(steps, triangles, areas, clock);
    return wallAtNodes({ positions: shape, thickness_m: wall, skinShare }, triangles).map((h) => L * h);
  };
  const frame = {
    time_s,
    temperature_K: moment.temperature_K,
    positions: positions.map((x) => L * x),
    thickness_m: wallOf(positions),
    linearScale: L,
    porosity: moment.porosity,
  };
  const cleared = clear(frame);
  if (cleared === frame.positions) return frame;
  return { ...frame, positions: cleared, thickness_m: wallOf(cleared.map((x) => x / L)) };
};
