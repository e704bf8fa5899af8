import { celsiusFromKelvin, fahrenheitFromCelsius } from '../units.ts';

export type Degrees = 'C' | 'F';
export type Lengths = 'mm' | 'in';

const MINUS = '−';
/** A number to so many places, with a real minus, and no minus before a nought. */
export const plain = (value: number, places = 0): string => {
  const text = value.toFixed(places);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', MINUS);
};

/** Without noughts at its end: 12, 12.5. */
export const brief = (value: number, places = 1): string =>
  plain(value, places)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '');

export const temperatureText = (t_K: number, degrees: Degrees): string => {
  const t_C = celsiusFromKelvin(t_K);
  return `${plain(degrees === 'C' ? t_C : fahrenheitFromCelsius(t_C))} °${degrees}`;
};

export const timeText = (t_s: number): string => {
  const minutes = Math.round(t_s / 60);
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
};

/** A moment in the reader's own way of writing dates, to the minute. */
export const onDay = (t_ms: number): string =>
  new Date(t_ms).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

/** How a quantity in SI is read out: its unit outside, and how many places make sense. */
export interface Reading {
  readonly unit: string;
  readonly per_SI: number;
  readonly places: number;
}

const MM: Reading = { unit: 'mm', per_SI: 1000, places: 1 };
const INCH: Reading = { unit: 'in', per_SI: 1 / 0.0254, places: 2 };
/** Lengths to a tenth of a mm or a hundredth of an inch; `finer` adds places, for walls. */
export const lengthReading = (lengths: Lengths, finer = 0): Reading => {
  const reading = lengths === 'mm' ? MM : INCH;
  return { ...reading, places: reading.places + finer };
};
/** As a quick look is told: one place less, but a hundredth of an inch is fine enough already. */
export const roughly = (reading: Reading): Reading =>
  reading.unit === 'in' ? reading : { ...reading, places: Math.max(0, reading.places - 1) };
export const WEIGHT: Reading = { unit: 'g', per_SI: 1000, places: 0 };
export const VOLUME: Reading = { unit: 'ml', per_SI: 1e6, places: 0 };
export const AREA: Reading = { unit: 'cm²', per_SI: 1e4, places: 1 };

export const read = (value_SI: number, { per_SI, places }: Reading): string =>
  plain(value_SI * per_SI, places);
export const readWithUnit = (value_SI: number, reading: Reading): string =>
  `${read(value_SI, reading)} ${reading.unit}`;

/** A length in a file's mm, as it is read off a drawing. */
export const lengthText = (value_mm: number, lengths: Lengths, places = 1): string =>
  lengths === 'mm' ? brief(value_mm, places) : brief(value_mm / 25.4, places + 1);

/**
 * Sentences of the firing are in mm; on a page in inches their lengths are too, with what stands between number and
 * unit: `the lip drops about 0.09 in`, `4 ± 1.5 mm` as `0.16 ± 0.06 in`, `4 (3 to 7) mm`.
 */
export const inLengths = (text: string, lengths: Lengths): string => {
  if (lengths === 'mm') return text;
  // Less than a hundredth of an inch takes one place more, so as not to read as nothing.
  const inches = (mm: string): string => plain(Number(mm) / 25.4, Number(mm) > 0 && Number(mm) < 0.3 ? 3 : 2);
  return text.replace(
    /(\d+(?:\.\d+)?(?: ± \d+(?:\.\d+)?| \([^()]*\d\))?) mm\b/g,
    (_, numbers: string) => `${numbers.replace(/\d+(?:\.\d+)?/g, inches)} in`,
  );
};

/** The same for the degrees of a sentence, rates among them: `at about 2250 °F`, `50 °C/h` as `90 °F/h`, and differences: `10 °C lower` as `18 °F lower`. */
export const inDegrees = (text: string, degrees: Degrees): string =>
  degrees === 'C'
    ? text
    : text
        .replace(/(\d+) °C\/h/g, (_, v: string) => `${plain(Number(v) * 1.8)} °F/h`)
        .replace(
          /(\d+) °C (?=lower|higher|hotter|cooler)/g,
          (_, v: string) => `${plain(Number(v) * 1.8)} °F `,
        )
        .replace(/(\d+) °C/g, (_, v: string) => `${plain(fahrenheitFromCelsius(Number(v)))} °F`);

/** The same for sentences whose degrees are differences: `5 °C off` as `9 °F off`. */
export const inDegreesApart = (text: string, degrees: Degrees): string =>
  degrees === 'C' ? text : text.replace(/(\d+) °C/g, (_, v: string) => `${plain(Number(v) * 1.8)} °F`);

/** What somebody typed as a number: a comma is a point, spaces and a unit are let pass. */
export const numberTyped = (text: string): number | undefined => {
  const match = /^\s*([+\-−]?\d*[.,]?\d+|[+\-−]?\d+[.,])\s*[a-zA-Z°%/²³]*\s*$/.exec(text);
  if (!match) return undefined;
  const value = Number(match[1]!.replace(',', '.').replace(MINUS, '-'));
  return Number.isFinite(value) ? value : undefined;
};
