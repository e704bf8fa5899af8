import type { Belief } from '../../making/learning/belief.ts';
import { asDrawnSd, DEVIATIONS_80, expected } from '../../making/learning/expected.ts';
import type { LearningLog } from '../../making/learning/learning-log.ts';
import { chanceOfFall, type Interval, predictedReading } from '../../making/learning/predict.ts';
import type { Foreseen } from '../worker/learning-jobs.ts';
import { MEASURE_KEYS } from './measure-rows.ts';

/** What is expected of each measure of a piece, its own measuring error included. */
export interface Foretold {
  readonly measures: Readonly<Record<string, Interval>>;
  /** That it falls, 0 to 1. */
  readonly fall: number;
}

/** What a log's last entry, of whatever kind, leaves believed: it was worked out when the entry was made. */
export const beliefOf = (log: LearningLog): Belief => log.entries.at(-1)?.after ?? log.start;

export const foretold = (
  { film, pace }: Foreseen,
  belief: Belief,
  kiln: string,
  plusMinus_mm: number,
): Foretold => {
  const lip_mm = film.readings['lip mean']?.[0] ?? 0;
  const hand = plusMinus_mm / DEVIATIONS_80;
  const measures = Object.fromEntries(
    MEASURE_KEYS.filter((key) => film.readings[key]).map((key) => {
      const about = expected(film, key)(belief.softness.mean, belief.size.mean);
      const sd_mm = Math.hypot(hand, asDrawnSd(key, about, lip_mm));
      return [key, predictedReading(film, pace, belief, kiln, { key, sd_mm })];
    }),
  );
  return { measures, fall: chanceOfFall(film, pace, belief, kiln) };
};
