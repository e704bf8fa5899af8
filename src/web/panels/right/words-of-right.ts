import type { Bias, HowRight } from '../../../making/learning/how-right.ts';
import { type Lengths, lengthReading, read, readWithUnit } from '../../words.ts';

/** Fewer pieces than this are too few to speak of a bias. */
const FEWEST_FOR_BIAS = 3;
const FEWEST = 5;
/** Twice the 80 % half width is one chance in a hundred for no bias at all. */
const CLEAR = 2;

/** `13 of 16 measures inside, 80 % expected.` */
export const coverageText = ({ rows }: HowRight): string => {
  const hits = rows.filter((r) => r.inside).length;
  return `${hits} of ${rows.length} measures came out inside their interval; 80 % expected, ${Math.round((100 * hits) / rows.length)} % found`;
};

export const judgement = ({ pieces, inside, due: [low, high] }: HowRight): string => {
  if (pieces < FEWEST) return `${pieces} ${pieces === 1 ? 'piece is' : 'pieces are'} too few to judge by.`;
  if (inside < low) return 'We were surer than we had a right to be.';
  return inside > high ? 'We could have been surer.' : 'About as sure as we said.';
};

/** One kind of piece, or one kiln, in a sentence. */
export const biasText = (bias: Bias, lengths: Lengths): string => {
  const { about, pieces, mean_mm, plusMinus_mm } = bias;
  if (pieces < FEWEST_FOR_BIAS) return `${pieces} ${pieces === 1 ? 'piece' : 'pieces'}, too few to tell`;
  const reading = lengthReading(lengths);
  const off = `${read(mean_mm / 1000, reading)} ± ${readWithUnit(plusMinus_mm / 1000, reading)}`;
  const moved = about === 'movement';
  if (Math.abs(mean_mm) < CLEAR * plusMinus_mm)
    return `${moved ? 'moved as far' : 'came out as large'} as predicted (${off})`;
  const more = moved ? ['more', 'less'] : ['larger', 'smaller'];
  const size = `${read(Math.abs(mean_mm) / 1000, reading)} ± ${readWithUnit(plusMinus_mm / 1000, reading)}`;
  return `${moved ? 'moved' : 'came out'} ${size} ${more[mean_mm < 0 ? 1 : 0]} than predicted`;
};
