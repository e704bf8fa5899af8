import { stretchAt } from '../../kernel/numerics/between.ts';
import { normalQuantile } from '../../kernel/numerics/normal.ts';
import type { FilmTable, PaceTable, Reading } from './learning-log.ts';

/** Half the width that holds four cases in five, against a standard deviation. */
export const DEVIATIONS_80 = normalQuantile(0.9);

/**
 * Pieces are not as drawn: what outer sizes differ by from the drawing, four in five, as a share (guesses). Round by
 * drawing, a lip is out of round by a part of its width. How far a lip came down is measured on the piece itself.
 */
const AS_DRAWN = { size: 0.01, oval: 0.004 } as const;

const straight = (x: Float64Array, y: readonly number[], at: number): number => {
  const last = x.length - 1;
  if (last === 0 || at >= x[last]) return y[last];
  if (at <= x[0]) return y[0];
  const i = stretchAt(x, at);
  return y[i] + ((at - x[i]) / (x[i + 1] - x[i])) * (y[i + 1] - y[i]);
};

/** A reading of a film at a clock and with all sizes a share off; mm. */
export const expected = (film: FilmTable, key: string): ((lnClock: number, size: number) => number) => {
  const x = Float64Array.from(film.lnClock);
  const y = film.readings[key];
  const lever = film.levers[key] ?? 0;
  return (lnClock, size) => {
    const by = Math.exp(size);
    return by * straight(x, y, lnClock) - (by - 1) * lever;
  };
};

/** ln of the clock for a kiln so much hotter. */
export const paced = (pace: PaceTable): ((offset_K: number) => number) => {
  const x = Float64Array.from(pace.offset_K);
  return (offset_K) => straight(x, pace.lnClock, offset_K);
};

/** What a measure of this name differs by for pieces not being as drawn, mm, standard deviation. */
export const asDrawnSd = (key: string, value_mm: number, lip_mm: number): number => {
  if (key.startsWith('drop')) return 0;
  if (key === 'lip oval') return (AS_DRAWN.oval * lip_mm) / DEVIATIONS_80;
  return (AS_DRAWN.size * Math.abs(value_mm)) / DEVIATIONS_80;
};

/** The readings for which a film has a table. */
export const readable = (film: FilmTable, readings: readonly Reading[]): Reading[] =>
  readings.filter((r) => film.readings[r.key] !== undefined);
