import type { Change } from '../../../making/firing/makeable/makeable-contract.ts';
import type { Form } from '../../../making/form/form.ts';
import { type Lengths, lengthText, plain } from '../../words.ts';

/** A length in the page's unit, small ones with more places: 12.3 mm, 0.08 mm. */
export const smallLength = (length_m: number, lengths: Lengths): string => {
  if (!Number.isFinite(length_m)) return '–';
  const v = lengths === 'mm' ? length_m * 1000 : length_m / 0.0254;
  const places = (lengths === 'mm' ? 0 : 1) + (v < (lengths === 'mm' ? 0.995 : 0.0995) ? 2 : 1);
  const least = 10 ** -places;
  return v < least ? `< ${least.toFixed(places)}` : plain(v, places);
};

export interface Row {
  readonly part: 'line' | 'wall' | 'alterations';
  readonly name: string;
  readonly unit: string;
  readonly wanted: string | undefined;
  readonly make: string;
  readonly by: string;
  readonly changed: boolean;
}

const ALTERED: Readonly<Record<string, string>> = {
  depth_mm: 'depth',
  twist_deg: 'twist',
  longer_percent: 'longer by',
  flatness: 'flatness',
};

const named = (field: string, form: Form): Pick<Row, 'part' | 'name'> => {
  const [, list, index, rest = ''] = /^(\w+)\[(\d+)\]\.(.*)$/.exec(field) ?? [];
  const i = Number(index);
  if (list === 'line')
    return { part: 'line', name: `Point ${i + 1}, ${rest.startsWith('radius') ? 'radius' : 'height'}` };
  if (list === 'wall') {
    const along = form.wall[i]?.along ?? 0;
    const where =
      along <= 0
        ? 'at the start'
        : along >= 1
          ? 'at the lip'
          : `${Math.round(100 * along)} % of the way to the lip`;
    return { part: 'wall', name: `Wall ${where}` };
  }
  const kind = form.alterations[i]?.kind ?? 'alteration';
  const [, level] = /^depth\[(\d+)\]/.exec(rest) ?? [];
  const what = ALTERED[rest.split('.').at(-1) ?? ''] ?? rest;
  const name = `${kind.charAt(0).toUpperCase()}${kind.slice(1)}, ${what}${level === undefined ? '' : ` ${Number(level) + 1}`}`;
  return { part: 'alterations', name };
};

const PLACES: Readonly<Record<string, number>> = { '': 2, '°': 0, '%': 1 };
const LEAST_SHOWN = 0.02;

/** Each number the hands set, wanted and to make, in the page's unit. */
export const rowsOf = (changes: readonly Change[], form: Form, lengths: Lengths): Row[] =>
  changes.map(({ field, unit, wanted, make }) => {
    const shown = (v: number): string =>
      unit === 'mm' ? lengthText(v, lengths) : plain(v, PLACES[unit] ?? 1);
    const off = wanted === undefined ? undefined : make - wanted;
    const signed = off === undefined ? '' : `${off > 0 ? '+' : ''}${shown(off)}`;
    return {
      ...named(field, form),
      unit: unit === 'mm' ? lengths : unit,
      wanted: wanted === undefined ? undefined : shown(wanted),
      make: shown(make),
      by: signed,
      changed: off === undefined || Math.abs(off) > LEAST_SHOWN,
    };
  });
