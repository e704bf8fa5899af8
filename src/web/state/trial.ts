import type { Fault } from '../../error.ts';
import { Form } from '../../making/form/form.ts';
import type { Path } from './at.ts';

/**
 * Carving and uneven walls are worked on even where no clay could hold them yet: the fields keep what was asked for,
 * the picture shows it in red, and the last sound piece stays in the fire.
 */
export const mayBeTried = (path: Path): boolean =>
  path[0] === 'form' && (path[1] === 'carving' || path[1] === 'uneven');

/** The form if it can at least be read, and its faults are all of carving and wall. */
export const tried = (form: unknown, faults: readonly Fault[]): Form | undefined => {
  if (!faults.every(({ field }) => /^form\.(carving|uneven)\b/.test(field))) return undefined;
  const read = Form.safeParse(form);
  return read.success ? read.data : undefined;
};

/** Each fault by the field it stands beside; the first of a field is the one to mend. */
export const byField = (faults: readonly Fault[]): Record<string, Fault> =>
  Object.fromEntries([...faults].reverse().map((fault) => [fault.field, fault]));
