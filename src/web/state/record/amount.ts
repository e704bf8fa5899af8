import { type Field, KINDS, type KindName, kindOf } from '../../../making/record/kinds.ts';
import type { Degrees, Lengths } from '../../words.ts';
import { brief, numberTyped } from '../../words.ts';

/** Numbers of an entry as they are kept (g, mm, °C, cents) and as the studio says them. */

export interface Units {
  readonly lengths: Lengths;
  readonly weights: 'g' | 'lb';
  readonly degrees: Degrees;
  readonly currency: string;
}

interface Scale {
  readonly unit: string;
  /** shown = kept × times + plus */
  readonly times: number;
  readonly plus: number;
  readonly places: number;
}

const G_PER_LB = 453.59237; // exact by definition (NIST SP 811, 1959 agreement)

/** How many places the money of a currency has, by ISO 4217 as the browser knows it. */
const placesOf = (currency: string): number => {
  try {
    return (
      new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ??
      2
    );
  } catch {
    return 2;
  }
};

const scaleOf = (field: string, units: Units): Scale => {
  if (field.endsWith('_minor'))
    return {
      unit: units.currency,
      times: 10 ** -placesOf(units.currency),
      plus: 0,
      places: placesOf(units.currency),
    };
  if (field.endsWith('_mm'))
    return units.lengths === 'mm'
      ? { unit: 'mm', times: 1, plus: 0, places: 1 }
      : { unit: 'in', times: 1 / 25.4, plus: 0, places: 3 };
  if (field.endsWith('_g'))
    return units.weights === 'g'
      ? { unit: 'g', times: 1, plus: 0, places: 1 }
      : { unit: 'lb', times: 1 / G_PER_LB, plus: 0, places: 3 };
  if (field.endsWith('_C'))
    return units.degrees === 'C'
      ? { unit: '°C', times: 1, plus: 0, places: 0 }
      : { unit: '°F', times: 1.8, plus: 32, places: 0 };
  if (field.endsWith('_percent')) return { unit: '%', times: 1, plus: 0, places: 1 };
  return { unit: field === 'hours' ? 'h' : '', times: 1, plus: 0, places: 2 };
};

export const unitOf = (field: string, units: Units): string => scaleOf(field, units).unit;

/** As it is read: `1.5`, without its unit. */
export const shownAmount = (field: string, kept: number, units: Units): string => {
  const { times, plus, places } = scaleOf(field, units);
  return field.endsWith('_minor')
    ? (kept * times).toFixed(places)
    : brief(kept * times + plus, places).replace('−', '-');
};

export const amountText = (field: string, kept: number, units: Units): string =>
  field.endsWith('_minor')
    ? moneyText(kept, units.currency)
    : `${shownAmount(field, kept, units).replace('-', '−')} ${unitOf(field, units)}`.trim();

export const moneyText = (minor: number, currency: string): string => {
  const places = placesOf(currency);
  return new Intl.NumberFormat(undefined, { style: 'currency', currency }).format(minor / 10 ** places);
};

/** What was typed, as it is kept; words where it will not do; undefined where nothing was typed. */
export const keptAmount = (
  kind: KindName,
  field: string,
  text: string,
  units: Units,
): number | string | undefined => {
  if (text.trim() === '') return undefined;
  const { times, plus, places } = scaleOf(field, units);
  const typed = numberTyped(text);
  if (typed === undefined) return 'a number';
  const { least, most, whole } = kindOf(kind).fields[field] as Extract<Field, { type: 'number' }>;
  const raw = (typed - plus) / times;
  const kept = whole ? Math.round(raw) : Number(raw.toPrecision(12));
  // Half a cent is a slip of the finger, not a price.
  if (whole && Math.abs(raw - kept) > 1e-6)
    return places > 0 ? `at most ${places} places after the point` : 'a whole number';
  if (kept < least || kept > most) {
    const shown = (value: number): string => shownAmount(field, value, units);
    return `${shown(least)} to ${shown(most)} ${unitOf(field, units)}`.trim();
  }
  return kept;
};

/** A field's words without the unit that stands beside its box. */
export const saysOf = (kind: KindName, field: string): string => {
  const says: string = (KINDS[kind].fields as Readonly<Record<string, Field>>)[field]?.says ?? field;
  const bare = says.replace(/, (in the smallest unit|three letters).*$/, '').replace(/, (g|mm|%|°C)$/, '');
  const whole = field.endsWith('_minor') ? `price ${bare}` : bare;
  return whole.charAt(0).toUpperCase() + whole.slice(1);
};
