import { AfterfireError, faultText } from '../error.ts';
import { parseJson } from '../store/json-text.ts';
import { readText } from '../store/read-text.ts';
import { formAtFault } from './drawing/form-at-fault.ts';
import type { Picture } from './drawing/picture.ts';
import { settingAtFault } from './drawing/setting-at-fault.ts';
import { drawSheet } from './drawing/sheet.ts';
import type { Planned } from './firing-options.ts';

/** Faults as they stand under a drawing: without the name of the file and the line in it. */
const sentencesOf = (error: AfterfireError): string[] =>
  error.faults.map((fault) => `${faultText({ ...fault, field: fault.field.replace(/^.*: /, '') })}.`);

const sheet = (title: string, pictures: readonly Picture[]): string =>
  drawSheet({
    title,
    subtitle: 'Not fired: what is at fault is drawn in red.',
    what: 'what is at fault, in red',
    legend: { kind: 'at fault', props: pictures.some(({ props = [] }) => props.length > 0) },
    pictures,
    notes: [],
  });

const isBadInput = (error: unknown): error is AfterfireError =>
  error instanceof AfterfireError && error.code === 'bad-input';

/** What can be shown of a fault is shown; a drawing that fails must not hide the fault itself. */
const orNothing = async (draw: () => Promise<string | undefined> | string): Promise<string | undefined> => {
  try {
    return await draw();
  } catch {
    return undefined;
  }
};

/** The drawing of a form file that was refused, where it can be drawn. */
export const drawBadForm = async (formFile: string, error: unknown): Promise<string | undefined> => {
  if (!isBadInput(error)) return undefined;
  return orNothing(async () => {
    const json = parseJson(formFile, await readText(formFile));
    const found = formAtFault(json, error.faults, sentencesOf(error));
    return found && sheet(found.name, [found.picture]);
  });
};

/** The drawing of a piece that does not stand as asked. */
export const drawBadSetting = async (
  { input, called }: Planned,
  error: unknown,
): Promise<string | undefined> => {
  if (!isBadInput(error) || !error.faults.some(({ field }) => field.startsWith('setting.'))) return undefined;
  return orNothing(() =>
    sheet(input.form.name, settingAtFault(input, called, error.faults, sentencesOf(error))),
  );
};
