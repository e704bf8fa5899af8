import { mm } from '../../making/paper/svg-text.ts';
import { ACCENT, BAND, INK, PALE_INK, PROP, sagColour } from './ink.ts';
import type { ValueMap } from './picture.ts';
import { tag, words } from './svg.ts';

/** What the lines and shades of a sheet mean. */
export interface Legend {
  readonly kind: 'fired' | 'at fault' | 'outline' | 'aim';
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
/** An outline that was photographed, where it was hardly seen, and as it was foreseen. */
export const SEEN = { stroke: INK, 'stroke-width': 0.35 } as const;
export const HARDLY_SEEN = { stroke: ACCENT, 'stroke-width': 0.7 } as const;
export const FORESEEN = { stroke: PALE_INK, 'stroke-width': 0.28, 'stroke-dasharray': '1.6 1.1' } as const;
/** What to make, and what is wanted of it. */
export const GREEN = { stroke: PALE_INK, 'stroke-width': 0.28, 'stroke-dasharray': '1.6 1.1' } as const;
export const WANTED = { stroke: INK, 'stroke-width': 0.4, 'stroke-dasharray': '3 0.8 0.6 0.8' } as const;
const PROPS: Entry = {
  text: 'props',
  width: 10,
  draw: box({ fill: PROP, stroke: PALE_INK, 'stroke-width': 0.3 }),
};

const rampOf =
  (colour: ValueMap['colour']): Entry['draw'] =>
  (x, y) =>
    Array.from({ length: 25 }, (_, i) =>
      tag('rect', { x: x + i * 1.2, y: y - 3, width: 1.25, height: 3, fill: colour(i / 24) }),
    ).join('');

const entriesOf = ({ kind, band, props }: Legend, { most_m, colour }: ValueMap): Entry[] => {
  const shared = props ? [PROPS] : [];
  if (kind === 'at fault')
    return [
      { ...BEFORE, text: 'bone dry' },
      ...shared,
      { text: 'at fault', width: 10, draw: line({ stroke: ACCENT, 'stroke-width': 0.7 }) },
    ];
  if (kind === 'outline')
    return [
      { text: 'from the photograph', width: 10, draw: line(SEEN) },
      { text: 'hardly seen', width: 10, draw: line(HARDLY_SEEN) },
      ...(band ? [{ text: 'as foreseen', width: 10, draw: line(FORESEEN) }] : []),
    ];
  if (kind === 'aim')
    return [
      { text: 'to make: bone dry', width: 10, draw: line(GREEN) },
      { text: 'wanted', width: 10, draw: line(WANTED) },
      ...shared,
      {
        text: `the fired wall: ${mm(1000 * most_m)} mm inside, as wanted, ${mm(1000 * most_m)} mm outside`,
        width: 30,
        draw: rampOf(colour),
      },
    ];
  return [
    { ...BEFORE, text: 'before: bone dry' },
    { text: 'after: fired', width: 10, draw: line({ stroke: INK, 'stroke-width': 0.35 }) },
    ...(band
      ? [{ text: 'four cases in five lie here', width: 10, draw: box({ fill: BAND, opacity: 0.5 }) }]
      : []),
    ...shared,
    { text: `sag 0 to ${mm(1000 * most_m)} mm`, width: 30, draw: rampOf(colour) },
  ];
};

/** The legend as one row from x on. */
export const legendOf = (legend: Legend, x: number, y: number, map: ValueMap): string => {
  let at = x;
  return entriesOf(legend, map)
    .map(({ text, width, draw }) => {
      const drawn = draw(at, y) + words(at + width + 2, y, text, { size: TEXT, colour: INK });
      at += width + 2 + text.length * TEXT * ADVANCE + 5;
      return drawn;
    })
    .join('');
};

/** How wide the row is, mm: a sheet is at least that. */
export const legendWidth = (legend: Legend): number =>
  entriesOf(legend, { most_m: 0.01, colour: sagColour }).reduce(
    (sum, { text, width }) => sum + width + 7 + text.length * TEXT * ADVANCE,
    0,
  );
