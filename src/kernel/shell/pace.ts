import type { RateResult } from './rate.ts';

/**
 * What the step length goes by: how sharply the speeds turn, |v''|. Where a contact comes or goes the speeds jump,
 * which says nothing of the next step; the estimate made while contacts were quiet is kept over it. (Following the
 * jumps cost 94 steps for a tube on its side where 30 give the same shape.)
 */
export interface Pace {
  /** Speeds of the last steps and the step taken from each, newest first. */
  readonly past: { rates: Float64Array; dt: number }[];
  /** Speeds in a row found with unchanged contacts. */
  quiet: number;
  /** Root-mean-square |v''| over nodes, m/s³. */
  sharpness: number;
}

export const ADAMS_ERROR = 5 / 12;

/** What is left of an old estimate after a step in which contacts changed: steps grow by 8 % a step. */
const FORGET = 0.8;

export const keepPace = (pace: Pace, now: RateResult, dt: number): void => {
  pace.quiet = now.contactsChanged ? 0 : pace.quiet + 1;
  pace.past.unshift({ rates: now.rates, dt });
  pace.past.length = Math.min(pace.past.length, 3);
  if (pace.quiet >= 2) pace.sharpness = sharpnessOf(pace.past);
  // Where contacts never rest the old estimate must not hold for ever.
  else pace.sharpness *= FORGET;
};

/**
 * Half of what the speeds have changed by since the last step, times the step, in tolerances: at most this. Contacts
 * that come by hundreds in one step (a tube in a saddle nearly its own shape) made the piece leap and fall back.
 */
export const MOST_JUMPS = 60;

/** Seconds in which half the change of the speeds goes one metre, root-mean-square over nodes. */
export const jumpTime = (a: Float64Array, b: Float64Array): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i += 6) for (let c = i; c < i + 3; c++) sum += (a[c] - b[c]) ** 2;
  return 2 / (Math.sqrt((6 * sum) / a.length) || 1e-300);
};

export const pacedStep = (pace: Pace, longest: number, tolerance: number): number =>
  pace.sharpness > 0
    ? Math.min(longest, 0.9 * Math.cbrt(tolerance / (ADAMS_ERROR * pace.sharpness)))
    : longest;

/** |v''| from the last three speeds by divided differences, root-mean-square over nodes. */
const sharpnessOf = (past: Pace['past']): number => {
  if (past.length < 3) return 0;
  const [a, b, d] = past;
  const n = a.rates.length / 6;
  let sum = 0;
  for (let i = 0; i < n; i++)
    for (let c = 0; c < 3; c++) {
      const k = 6 * i + c;
      const s1 = (a.rates[k] - b.rates[k]) / b.dt;
      const s2 = (b.rates[k] - d.rates[k]) / d.dt;
      const second = (2 * (s1 - s2)) / (b.dt + d.dt);
      sum += second * second;
    }
  return Math.sqrt(sum / n);
};
