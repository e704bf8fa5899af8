import { AfterfireError, type Fault } from '../../error.ts';
import { parseClay } from '../../making/clay/clay.ts';
import { Setting } from '../../making/firing/setting.ts';
import { parseForm } from '../../making/form/form.ts';
import { parseSchedule } from '../../making/kiln/schedule.ts';
import { parseShape } from '../../shape.ts';
import type { Work } from './page.ts';

const CHECKS: { readonly [K in keyof Work]: (json: unknown) => Work[K] } = {
  form: parseForm,
  clay: parseClay,
  schedule: parseSchedule,
  setting: (json) => parseShape(Setting, json, 'setting'),
};

const faultsOf = (error: unknown, part: string): readonly Fault[] => {
  if (error instanceof AfterfireError && error.faults.length > 0) return error.faults;
  return [{ field: part, value: '', expected: error instanceof Error ? error.message : String(error) }];
};

/** The work if this part of it is sound, else what is wrong. Parts that did not change are not looked at again. */
export const checked = (work: Work, part: keyof Work): Work | readonly Fault[] => {
  try {
    return { ...work, [part]: CHECKS[part](work[part]) };
  } catch (error) {
    return faultsOf(error, part);
  }
};

export const isFaults = (outcome: Work | readonly Fault[]): outcome is readonly Fault[] =>
  Array.isArray(outcome);
