import type { Degrees, Lengths } from './words.ts';

/** How a number of a file is shown and typed: shown = file × times + plus. */
export interface Scale {
  readonly unit: string;
  readonly times: number;
  readonly plus: number;
  /** What an arrow key adds, in the unit shown. */
  readonly step: number;
  readonly places: number;
  /** A difference of temperatures: its degrees are larger or smaller, but begin at the same nought. */
  readonly apart?: boolean;
}

/** An arrow key's step in inches, near the one in mm and round. */
const inchStep = (step_mm: number): number => (step_mm < 0.3 ? 0.005 : step_mm < 0.8 ? 0.02 : 0.05);

/**
 * The scale for a field kept in `unit`, as the page's two switches have it. What is typed is turned back into the
 * file's own unit at once: files of forms stay in mm, and a schedule keeps the degrees it was written in, so that
 * looking at it in the other scale never rewrites its round numbers.
 */
export const scaleFor = (own: Scale, lengths: Lengths, degrees: Degrees): Scale => {
  const { unit, step, places } = own;
  if (unit === 'mm' && lengths === 'in')
    return { unit: 'in', times: 1 / 25.4, plus: 0, step: inchStep(step), places: Math.max(3, places) };
  const hotter = degrees === 'F' ? 9 / 5 : 5 / 9;
  if (unit === (degrees === 'F' ? '°C/h' : '°F/h')) return { ...own, unit: `°${degrees}/h`, times: hotter };
  if (unit === (degrees === 'F' ? '°C' : '°F'))
    return {
      ...own,
      unit: `°${degrees}`,
      times: hotter,
      plus: own.apart ? 0 : degrees === 'F' ? 32 : -160 / 9,
    };
  return own;
};

export const toShown = (value: number, { times, plus }: Scale): number => value * times + plus;

/** Back to the file; without the last digits that only come of reckoning in binary. */
export const toFile = (shown: number, { times, plus }: Scale): number =>
  Number(((shown - plus) / times).toPrecision(12));
