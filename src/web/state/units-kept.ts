import type { Units } from './page.ts';

const KEY = 'afterfire/units/1';

/** Both switches are kept between visits; a browser that keeps nothing is no trouble. */
export const keepUnits = ({ lengths, degrees }: Units): void => {
  try {
    localStorage.setItem(KEY, JSON.stringify({ lengths, degrees }));
  } catch {
    // They are two taps away.
  }
};

export const keptUnits = (): Units => {
  const usual: Units = { lengths: 'mm', degrees: 'C' };
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<Units>;
    return {
      lengths: kept.lengths === 'in' ? 'in' : usual.lengths,
      degrees: kept.degrees === 'F' ? 'F' : usual.degrees,
    };
  } catch {
    return usual;
  }
};
