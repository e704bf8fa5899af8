import type { Measures } from '../../making/form/measures.ts';

/** The measures that are single numbers, by name; a place in space says little in a table. */
export const measuresOf = (measures: Measures): Record<string, number> =>
  Object.fromEntries(Object.entries(measures).filter(([, value]) => typeof value === 'number'));
