import { quantileOf } from '../../kernel/numerics/normal.ts';
import type { Estimate } from './firing.ts';
import type { Readings } from './reading.ts';

/** Intervals from trials: the middle four fifths of what they read, and the calculation's own error added. */

/** Beyond shrinkage; a coarse mesh gets these wrong in proportion, so trials count as shares of its own reading. */
const IN_PROPORTION: ReadonlySet<string> = new Set(['topDrop_m', 'lipDrop_m', 'greatestSag_m']);
/** Where a coarse reading is further off than this factor it no longer tells the proportion. */
const MOST_PROPORTION = 2;
/** These are not below nothing. */
const NEVER_BELOW_ZERO: ReadonlySet<string> = new Set([
  'lipDrop_m',
  'greatestSag_m',
  'thinnestWall_m',
  'capacity_m3',
]);

/** The share of cases outside on either side. */
export const OUTSIDE = 0.1;

/** How much larger the fine run's movement is than the coarse one's. */
export const proportion = (fine: number, coarse: number): number =>
  fine > 0 && coarse > 0 ? Math.min(MOST_PROPORTION, Math.max(1 / MOST_PROPORTION, fine / coarse)) : 1;

/** What a trial reads, and what the same film reads where nothing is off. */
export interface Trial {
  readonly readings: Readings;
  readonly against: Readings;
}

/**
 * The readings of the fine run with their intervals.
 * @param numerical ± of each reading
 */
export const spreadOf = (
  fine: Readings,
  trials: readonly Trial[],
  numerical: Readings,
  why: string,
): Record<string, Estimate> => {
  const out: Record<string, Estimate> = {};
  for (const [key, value] of Object.entries(fine)) {
    const off = trials.map(({ readings, against }) => {
      const by = IN_PROPORTION.has(key) ? proportion(value, against[key]) : 1;
      return by * (readings[key] - against[key]);
    });
    const under = Math.min(0, quantileOf(off, OUTSIDE));
    const over = Math.max(0, quantileOf(off, 1 - OUTSIDE));
    const low = value - Math.hypot(under, numerical[key]);
    out[key] = {
      value,
      low: NEVER_BELOW_ZERO.has(key) ? Math.max(0, low) : low,
      high: value + Math.hypot(over, numerical[key]),
      numerical: numerical[key],
      spreadLow: value + under,
      spreadHigh: value + over,
      why,
    };
  }
  return out;
};

/** Readings with no interval: a quick look, or a piece that fell. */
export const unspread = (fine: Readings, why: string): Record<string, Estimate> => {
  const none = Number.NaN;
  return Object.fromEntries(
    Object.entries(fine).map(([key, value]) => [
      key,
      { value, low: none, high: none, numerical: none, spreadLow: none, spreadHigh: none, why },
    ]),
  );
};
