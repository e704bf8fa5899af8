import type { Block } from '../paper/lay-out.ts';
import { KILN } from './cautions.ts';
import { checkRuler } from './drawings.ts';

/** What the sheets of all protocols are put together from. */

export const PROTOCOLS = [
  'sag-bar',
  'shrinkage-bar',
  'absorption',
  'bars-at-holds',
  'witness-cones',
] as const;
export type ProtocolKind = (typeof PROTOCOLS)[number];

export interface ProtocolOptions {
  /** Name of the clay, printed on top; a line to write on where left out. */
  readonly clay?: string;
  readonly kiln?: string;
  /** Rows of the table. */
  readonly pieces?: number;
  /** Between the edges of the supports. */
  readonly span_mm?: number;
  /** Wet thickness of a sag bar. */
  readonly thickness_mm?: number;
  /** Peaks and holds of a set. */
  readonly holds?: readonly { readonly peak_C: number; readonly minutes: number }[];
  /** Softest first: one that should go down, the one aimed at, one that should stand. */
  readonly cones?: readonly string[];
}

export const TITLES: Readonly<Record<ProtocolKind, string>> = {
  'sag-bar': 'A sag bar on two supports',
  'shrinkage-bar': 'Shrinkage bars',
  absorption: 'Water absorption and density',
  'bars-at-holds': 'Sag bars at different holds',
  'witness-cones': 'Witness cones beside the ware',
};

export const paragraph = (text: string): Block => ({ kind: 'paragraph', text });
export const heading = (text: string): Block => ({ kind: 'heading', text });
export const steps = (...items: readonly string[]): Block => ({ kind: 'list', numbered: true, items });
export const table = (
  columns: readonly (readonly [string, number])[],
  rows: readonly (readonly string[])[],
): Block => ({
  kind: 'table',
  columns: columns.map(([title, share]) => ({ title, share })),
  rows: rows.map((r) => columns.map((_, i) => r[i] ?? '')),
});
export const blank = (count: number): (readonly string[])[] => Array.from({ length: count }, () => []);

export const opening = (
  kind: ProtocolKind,
  o: ProtocolOptions,
  what: string,
  mind: readonly string[],
): Block[] => [
  { kind: 'title', text: TITLES[kind] },
  paragraph(
    `Clay: ${o.clay ?? '____________________'}    Kiln: ${o.kiln ?? '____________________'}    Date: ____________`,
  ),
  paragraph(what),
  heading('Mind'),
  { kind: 'list', numbered: false, items: [...mind, ...KILN] },
  {
    kind: 'drawing',
    caption:
      'Print at 100 %, not fitted to the page, and lay a ruler on this line: where it is not 100 mm, the drawings are not at true size.',
    elements: checkRuler(),
  },
];
