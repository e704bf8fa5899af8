import { escaped, mm } from '../../making/paper/svg-text.ts';

/** An SVG drawing is a list of strings in millimetres; these few functions write them. */

const attributes = (given: Readonly<Record<string, string | number>>): string =>
  Object.entries(given)
    .map(([name, value]) => ` ${name}="${typeof value === 'number' ? mm(value) : escaped(value)}"`)
    .join('');

export const tag = (name: string, given: Readonly<Record<string, string | number>>, inside = ''): string =>
  inside === '' ? `<${name}${attributes(given)}/>` : `<${name}${attributes(given)}>${inside}</${name}>`;

/** Points in a plane. */
export type Flat = readonly (readonly [number, number])[];

export const pathOf = (points: Flat, closed: boolean): string =>
  `M${points.map(([x, y]) => `${mm(x)} ${mm(y)}`).join('L')}${closed ? 'Z' : ''}`;

/** Mean advance of DejaVu Sans in ems, for breaking lines without measuring every letter. */
const MEAN_ADVANCE = 0.57;

export const wrapped = (text: string, width_mm: number, size_mm: number): string[] => {
  const most = Math.max(8, Math.floor(width_mm / (size_mm * MEAN_ADVANCE)));
  const lines: string[] = [];
  for (const word of text.split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
};

export interface Words {
  readonly size: number;
  readonly colour: string;
  readonly weight?: 'bold';
  readonly anchor?: 'start' | 'middle' | 'end';
}

export const words = (x: number, y: number, text: string, look: Words): string =>
  tag(
    'text',
    {
      x,
      y,
      'font-size': look.size,
      fill: look.colour,
      'font-weight': look.weight ?? 'normal',
      'text-anchor': look.anchor ?? 'start',
    },
    escaped(text),
  );
