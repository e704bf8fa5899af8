import { quantileOf } from '../../kernel/numerics/normal.ts';
import { positionsAt } from '../../kernel/shell/film.ts';
import { type CoarseFilm, within } from './coarse-film.ts';
import type { Moment } from './ensemble.ts';
import type { Margin } from './firing.ts';
import { OUTSIDE } from './spread.ts';

/** How many more minutes at peak the piece has before its rim moves further: read off the film past the end. */

export const MARGIN_MOVES_m = 0.002;
/** Longer holds than this are another firing. */
export const MOST_MINUTES = 60;
const HALVINGS = 24;

/** The furthest any of these nodes is in `now` from where it was in `then`, m. */
export const furthest = (nodes: ArrayLike<number>, then: Float64Array, now: Float64Array): number => {
  let most = 0;
  for (let k = 0; k < nodes.length; k++) {
    const i = 3 * nodes[k];
    most = Math.max(most, Math.hypot(now[i] - then[i], now[i + 1] - then[i + 1], now[i + 2] - then[i + 2]));
  }
  return most;
};

interface Reach {
  readonly minutes: number;
  readonly atLeast: boolean;
}

/** Minutes until these nodes have moved `moves_m` in bone-dry lengths, from one trial's end on. */
const minutesFrom = (film: CoarseFilm, nodes: ArrayLike<number>, from: Moment, moves_m: number): Reach => {
  if (!within(film, from.clock)) return { minutes: 0, atLeast: film.end === 'met' };
  const then = positionsAt(film.steps, from.clock);
  const moved = (clock: number): boolean => furthest(nodes, then, positionsAt(film.steps, clock)) >= moves_m;
  const minutes = (clock: number): number => (clock - from.clock) / (60 * from.peakPace);
  const first = film.steps.find((s) => s.time_s > from.clock && moved(s.time_s));
  if (first === undefined) {
    const known = minutes(film.reach);
    // A piece that falls moves its rim.
    return { minutes: Math.min(MOST_MINUTES, known), atLeast: film.end !== 'fell' || known > MOST_MINUTES };
  }
  let low = from.clock;
  let high = first.time_s;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = 0.5 * (low + high);
    if (moved(middle)) high = middle;
    else low = middle;
  }
  const found = minutes(high);
  return found > MOST_MINUTES ? { minutes: MOST_MINUTES, atLeast: true } : { minutes: found, atLeast: false };
};

/** Whole minutes, fives of them where there are many, so as not to sound surer than anybody is. */
const told = (minutes: number): string => {
  if (minutes < 1) return 'less than 1';
  const step = minutes < 20 ? 1 : 5;
  return `${Math.round(minutes / step) * step}`;
};

const inWords = (part: string, m: Omit<Margin, 'text'>): string => {
  const [low, middle, high] = [m.low, m.minutes, m.high].map(told);
  const end = `longer at peak before ${part} moves ${Math.round(1000 * m.moves_m)} mm more.`;
  if (m.atLeast)
    return m.low >= m.minutes
      ? `It can stand more than ${middle} minutes ${end}`
      : `It can stand more than ${middle} minutes (at worst ${low}) ${end}`;
  const to = m.highAtLeast ? `more than ${high}` : high;
  const interval = low === to ? '' : ` (${low} to ${to})`;
  const about = middle.startsWith('less') ? middle : `about ${middle}`;
  return `It can stand ${about} ${middle.endsWith(' 1') || middle === '1' ? 'minute' : 'minutes'}${interval} ${end}`;
};

/**
 * The margin, with the spread of the trials.
 * @param part what moves, e.g. `the lip`; `nodes` which nodes those are on the film's mesh
 * @param by how much more the fine mesh moves than the film's
 * @param unsure share of its movement the calculation may be off by, and so of the minutes
 */
export const marginOf = (
  film: CoarseFilm,
  nodes: ArrayLike<number>,
  part: string,
  nominal: Moment,
  trials: readonly Moment[],
  by: number,
  unsure: number,
): Margin => {
  const reach = (moment: Moment): Reach =>
    minutesFrom(film, nodes, moment, MARGIN_MOVES_m / (moment.scale * by));
  const middle = reach(nominal);
  const all = trials.map(reach);
  const each = all.map((r) => r.minutes);
  const off = Math.min(1, unsure) * middle.minutes;
  const under = Math.max(0, middle.minutes - quantileOf(each, OUTSIDE));
  const over = Math.max(0, quantileOf(each, 1 - OUTSIDE) - middle.minutes);
  const low = Math.max(0, middle.minutes - Math.hypot(under, off));
  const high = Math.min(MOST_MINUTES, middle.minutes + Math.hypot(over, off));
  const least = Math.min(...all.filter((r) => r.atLeast).map((r) => r.minutes), MOST_MINUTES);
  const numbers = {
    moves_m: MARGIN_MOVES_m,
    minutes: middle.minutes,
    low,
    high,
    atLeast: middle.atLeast,
    highAtLeast: middle.atLeast || high >= least,
  };
  return { ...numbers, text: inWords(part, numbers) };
};
