import { evenDraws } from '../../kernel/numerics/even-draws.ts';
import { normalQuantile, quantileOf } from '../../kernel/numerics/normal.ts';
import type { Belief } from './belief.ts';
import { expected, paced } from './expected.ts';
import type { FilmTable, PaceTable, Reading } from './learning-log.ts';
import { FIRING_SCATTER_K } from './posterior.ts';
import { unknownKiln } from './start.ts';

/** What a belief expects of a piece: even draws of all that is not known, each a place in the piece's film. */

export interface Interval {
  readonly low_mm: number;
  readonly middle_mm: number;
  readonly high_mm: number;
}

/** One way things may be. */
export interface Draw {
  readonly softness: number;
  readonly size: number;
  /** This piece's own ln, in units of its standard deviation, and that deviation without the mesh's part. */
  readonly own: number;
  readonly scatter: number;
  /** Of the kiln in the firing to come. */
  readonly offset_K: number;
  /** For whatever else differs, in units of its standard deviation. */
  readonly noise: number;
}

const DRAWS_AS_POWER_OF_2 = 9;
const SEED = 4;

/** @param kiln a name; one not heard of before is off by who knows what */
export const drawsOf = (belief: Belief, kiln: string, bits = DRAWS_AS_POWER_OF_2): Draw[] => {
  const { mean_K, sd_K, withSoftness } = belief.kilns.find((k) => k.name === kiln) ?? unknownKiln(kiln);
  return evenDraws(bits, 6, SEED).map((point) => {
    const [s, z, w, k, own, noise] = point.map(normalQuantile);
    // What is left of the kiln's offset once the softness is known, and this firing's own about it.
    const left_K = Math.hypot(sd_K * Math.sqrt(1 - withSoftness ** 2), FIRING_SCATTER_K);
    return {
      softness: belief.softness.mean + belief.softness.sd * s,
      size: belief.size.mean + belief.size.sd * z,
      own,
      scatter: Math.exp(belief.wall.mean + belief.wall.sd * w),
      offset_K: mean_K + sd_K * withSoftness * s + left_K * k,
      noise,
    };
  });
};

/** ln of the clock of each draw. */
const clocksOf = (film: FilmTable, pace: PaceTable, draws: readonly Draw[]): number[] => {
  const go = paced(pace);
  return draws.map((d) => d.softness + go(d.offset_K) + d.own * Math.hypot(d.scatter, film.meshSd));
};

/** One reading's 80 % interval; `sd_mm` of measuring and of what was not made as drawn. */
export const predictedReading = (
  film: FilmTable,
  pace: PaceTable,
  belief: Belief,
  kiln: string,
  reading: Pick<Reading, 'key' | 'sd_mm'>,
): Interval => {
  const draws = drawsOf(belief, kiln);
  const at = expected(film, reading.key);
  const values = clocksOf(film, pace, draws).map(
    (u, i) => at(u, draws[i].size) + reading.sd_mm * draws[i].noise,
  );
  return {
    low_mm: quantileOf(values, 0.1),
    middle_mm: quantileOf(values, 0.5),
    high_mm: quantileOf(values, 0.9),
  };
};

/** Chance that it falls before the end of the firing. */
export const chanceOfFall = (film: FilmTable, pace: PaceTable, belief: Belief, kiln: string): number => {
  if (film.falls === undefined) return 0;
  const draws = drawsOf(belief, kiln);
  const falls = film.falls;
  return clocksOf(film, pace, draws).filter((u) => u >= falls).length / draws.length;
};
