import type { Fault } from '../../error.ts';
import type { Work } from './page.ts';

/** A field's name as one would say it over the piece: `Prop 2 (saddle)` for `setting.props[1].height_mm`. */
export const spokenField = (field: string, { form, setting }: Pick<Work, 'form' | 'setting'>): string => {
  const prop = /^setting\.props\[(\d+)\]/.exec(field);
  if (prop) return `Prop ${Number(prop[1]) + 1} (${setting.props[Number(prop[1])]?.kind ?? 'gone'})`;
  const carving = /^form\.carving\[(\d+)\]/.exec(field);
  if (carving)
    return `Carving ${Number(carving[1]) + 1} (${form.carving[Number(carving[1])]?.kind ?? 'gone'})`;
  const reading = /^form\.uneven\.callipers\[(\d+)\]/.exec(field);
  if (reading) return `Reading ${Number(reading[1]) + 1} of the callipers`;
  return NAMES[field] ?? field;
};

const NAMES: Readonly<Record<string, string>> = {
  'setting.attitude': 'The attitude',
  'setting.props': 'What it stands on',
  'setting.lean_deg': 'The lean, in degrees',
  'form.uneven.offCentre_mm': 'Off centre',
};

const withoutStop = (text: string): string => text.replace(/(?<!\.)\.$/, '');

/** What a hand did not type but asked for is told in words, not as a value of a file. */
const given = ({ value }: Fault): string =>
  value === '[]' || value === '""'
    ? 'nothing'
    : withoutStop(value)
        .replace(/^"([^"]*)": /, '$1: ')
        // As the boxes are labelled.
        .replace(/x (-?[\d.]+) mm, y (-?[\d.]+) mm/, '$1 mm along, $2 mm across')
        .replace(/(^| )-(?=\d)/g, '$1−');

/** A fault as a sentence without its full stop. */
export const faultSaid = (fault: Fault, of: Pick<Work, 'form' | 'setting'>): string =>
  `${spokenField(fault.field, of)}: ${given(fault)}; ${fault.unknown ? '' : 'right would be '}${withoutStop(fault.expected)}`;
