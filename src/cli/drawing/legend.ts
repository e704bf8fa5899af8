import { ACCENT, BAND, INK, PALE_INK, PROP, sagColour } from './ink.ts';
import { mm, tag, words } from './svg.ts';

/** What the lines and shades of a sheet mean. */
export interface Legend {
  readonly kind: 'fired' | 'at fault';
  readonly band?: boolean;
  readonly props?: boolean;
}

const TEXT = 3;
/** Mean advance of the letters, ems: entries stand one after the other. */
const ADVANCE = 0.56;

interface Entry {
  readonly text: string;
  readonly width: number;
  readonly draw: (x: number, y: number) => string;
}

const line =
  (look: Readonly<Record<string, string | number>>): Entry['draw'] =>
  (x, y) =>
    tag('path', { d: `M${mm(x)} ${mm(y - 1)}h10`, fill: 'none', ...look });

const box =
  (look: Readonly<Record<string, string | number>>): Entry['draw'] =>
  (x, y) =>
    tag('rect', { x, y: y - 3, width: 10, height: 3, ...look });

const BEFORE = {
  width: 10,
  draw: line({ stroke: PALE_INK, 'stroke-width': 0.28, 'stroke-dasharray': '1.6 1.1' }),
};
const PROPS: Entry = {
  text: 'props',
  width: 10,
  draw: box({ fill: PROP, stroke: PALE_INK, 'stroke-width': 0.3 }),
};

const entriesOf = ({ kind, band, props }: Legend, most_m: number): Entry[] => {
  const shared = props ? [PROPS] : [];
  if (kind === 'at fault')
    return [
      { ...BEFORE, text: 'bone dry' },
      ...shared,
      { text: 'at fault', width: 10, draw: line({ stroke: ACCENT, 'stroke-width': 0.7 }) },
    ];
  const ramp: Entry['draw'] = (x, y) =>
    Array.from({ length: 25 }, (_, i) =>
      tag('rect', { x: x + i * 1.2, y: y - 3, width: 1.25, height: 3, fill: sagColour(i / 24) }),
    ).join('');
  return [
    { ...BEFORE, text: 'before: bone dry' },
    { text: 'after: fired', width: 10, draw: line({ stroke: INK, 'stroke-width': 0.35 }) },
    ...(band
      ? [{ text: 'four cases in five lie here', width: 10, draw: box({ fill: BAND, opacity: 0.5 }) }]
      : []),
    ...shared,
    { text: `sag 0 to ${mm(1000 * most_m)} mm`, width: 30, draw: ramp },
  ];
};

/** The legend as one row from x on. */
export const legendOf = (legend: Legend, x: number, y: number, most_m: number): string => {
  let at = x;
  return entriesOf(legend, most_m)
    .map(({ text, width, draw }) => {
      const drawn = draw(at, y) + words(at + width + 2, y, text, { size: TEXT, colour: INK });
      at += width + 2 + text.length * TEXT * ADVANCE + 5;
      return drawn;
    })
    .join('');
};

/** How wide the row is, mm: a sheet is at least that. */
export const legendWidth = (legend: Legend): number =>
  entriesOf(legend, 0.01).reduce((sum, { text, width }) => sum + width + 7 + text.length * TEXT * ADVANCE, 0);
