import type { Interval } from '../../../making/learning/predict.ts';
import { type Lengths, lengthReading, plain } from '../../words.ts';

/** Sides that differ by more than this are told apart. */
const LOPSIDED = 1.25;

const shown = (value_mm: number, lengths: Lengths, places: number): string =>
  plain(lengths === 'mm' ? value_mm : value_mm / 25.4, places);

const inUnit = (value_mm: number, lengths: Lengths): number =>
  lengths === 'mm' ? value_mm : value_mm / 25.4;

/** How many places still say something beside what is not known. */
const placesFor = ({ low_mm, high_mm }: Interval, lengths: Lengths): number => {
  const { places } = lengthReading(lengths);
  return inUnit(high_mm - low_mm, lengths) / 2 > 20 * 10 ** -places ? Math.max(0, places - 1) : places;
};

/** `239 ± 3`, or `4 (3 to 7)` where one side is longer; in the unit of the page, without it. */
export const intervalText = (interval: Interval, lengths: Lengths): string => {
  const { low_mm, middle_mm, high_mm } = interval;
  const places = placesFor(interval, lengths);
  const [under, over] = [middle_mm - low_mm, high_mm - middle_mm];
  const middle = shown(middle_mm, lengths, places);
  if (Math.max(under, over) <= LOPSIDED * Math.min(under, over))
    return `${middle} ± ${shown(Math.max(under, over), lengths, places)}`;
  return `${middle} (${shown(low_mm, lengths, places)} to ${shown(high_mm, lengths, places)})`;
};

export const measuredText = (value_mm: number, lengths: Lengths): string =>
  shown(value_mm, lengths, lengthReading(lengths).places);

/** Where a measure came out against what was expected of it. */
export const outcomeText = (value_mm: number, { low_mm, high_mm }: Interval, lengths: Lengths): string => {
  if (value_mm >= low_mm && value_mm <= high_mm) return 'as expected';
  const off = value_mm < low_mm ? low_mm - value_mm : value_mm - high_mm;
  const { places, unit } = lengthReading(lengths);
  return `${shown(off, lengths, places)} ${unit} ${value_mm < low_mm ? 'less' : 'more'} than four in five`;
};
