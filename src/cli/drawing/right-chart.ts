import type { Compared, HowRight, Known } from '../../making/learning/how-right.ts';
import { escaped, mm } from '../../making/paper/svg-text.ts';
import { ACCENT, BAND, GRID_STRONG, INK, PALE_INK, PAPER } from './ink.ts';
import { LINE, TEXT } from './picture.ts';
import { tag, words, wrapped } from './svg.ts';

/** Predicted against measured: how far pieces moved, sizes less their prediction, and how predictions tightened. */

export interface ToChart {
  readonly log: { readonly name: string };
  readonly right: HowRight;
  readonly tightened: readonly Known[];
}

const MARGIN = 12;
const SIDE = 90;
const GAP = 26;
const HEAD = 34;

interface Range {
  readonly from: number;
  readonly to: number;
}

/** From and to, with air, and whole steps of 1, 2 or 5 to mark between. */
const ticks = ({ from, to }: Range): number[] => {
  const rough = (to - from) / 6;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5].find((k) => k * power >= rough) ?? 10) * power;
  const marks: number[] = [];
  for (let x = Math.ceil(from / step) * step; x <= to + 1e-9; x += step) marks.push(Number(x.toFixed(6)));
  return marks;
};

const rangeOf = (values: readonly number[]): Range => {
  const [from, to] = [Math.min(...values), Math.max(...values)];
  const air = 0.06 * (to - from || 1);
  return { from: from - air, to: to + air };
};

type Place = (x: number, y: number) => readonly [number, number];

interface Frame {
  readonly svg: string;
  readonly at: Place;
}

/** A square with its marks; `left` and HEAD are its upper left corner. */
const frame = (left: number, x: Range, y: Range, title: string, along: string, up: string): Frame => {
  const at: Place = (u, v) => [
    left + (SIDE * (u - x.from)) / (x.to - x.from),
    HEAD + SIDE - (SIDE * (v - y.from)) / (y.to - y.from),
  ];
  const small = { size: 2.6, colour: PALE_INK } as const;
  const across = ticks(x).map((u) => {
    const [px] = at(u, 0);
    return (
      tag('path', { d: `M${mm(px)} ${mm(HEAD)}v${SIDE}`, stroke: GRID_STRONG, 'stroke-width': 0.12 }) +
      words(px, HEAD + SIDE + 4, String(u), { ...small, anchor: 'middle' })
    );
  });
  const upward = ticks(y).map((v) => {
    const [, py] = at(0, v);
    return (
      tag('path', { d: `M${mm(left)} ${mm(py)}h${SIDE}`, stroke: GRID_STRONG, 'stroke-width': 0.12 }) +
      words(left - 1.5, py + 0.9, String(v), { ...small, anchor: 'end' })
    );
  });
  const svg = [
    words(left, HEAD - 8.5, title, { size: 3.6, colour: INK, weight: 'bold' }),
    words(left, HEAD - 3, up, { size: TEXT, colour: PALE_INK }),
    ...across,
    ...upward,
    tag('rect', {
      x: left,
      y: HEAD,
      width: SIDE,
      height: SIDE,
      fill: 'none',
      stroke: PALE_INK,
      'stroke-width': 0.25,
    }),
    words(left + SIDE, HEAD + SIDE + 9, along, { size: TEXT, colour: PALE_INK, anchor: 'end' }),
  ];
  return { svg: svg.join(''), at };
};

const R = 1.1;
/** One shape an attitude, so that the drawing tells them apart in grey too. */
const SHAPES: Readonly<Record<string, (x: number, y: number) => string>> = {
  upright: (x, y) => `M${mm(x)} ${mm(y - R)}l${R} ${mm(1.8 * R)}h${mm(-2 * R)}Z`,
  'rim down': (x, y) => `M${mm(x)} ${mm(y + R)}l${R} ${mm(-1.8 * R)}h${mm(-2 * R)}Z`,
  'on its side': (x, y) => `M${mm(x - R)} ${mm(y - 0.8 * R)}h${mm(2 * R)}v${mm(1.6 * R)}h${mm(-2 * R)}Z`,
  leaning: (x, y) =>
    `M${mm(x)} ${mm(y - 1.3 * R)}L${mm(x + R)} ${mm(y)}L${mm(x)} ${mm(y + 1.3 * R)}L${mm(x - R)} ${mm(y)}Z`,
};
const shape = (attitude: string, x: number, y: number): string => (SHAPES[attitude] ?? SHAPES.leaning)(x, y);

/** A measure with its interval; outside it, in the accent. */
const mark = (
  attitude: string,
  inside: boolean,
  x: number,
  low: number,
  middle: number,
  high: number,
): string => {
  const colour = inside ? INK : ACCENT;
  return (
    tag('path', {
      d: `M${mm(x)} ${mm(low)}V${mm(high)}`,
      stroke: colour,
      'stroke-width': inside ? 0.25 : 0.45,
    }) + tag('path', { d: shape(attitude, x, middle), fill: colour })
  );
};

/** How far pieces moved: those on the slanted line came out as predicted. */
const movement = (rows: readonly Compared[], left: number): string => {
  const both = rangeOf([0, ...rows.flatMap((r) => [r.measured_mm, r.low_mm, r.high_mm])]);
  const { svg, at } = frame(left, both, both, 'How far they moved', 'measured, mm', 'predicted, mm');
  const [a, b] = [at(both.from, both.from), at(both.to, both.to)];
  const line = tag('path', {
    d: `M${a.map(mm).join(' ')}L${b.map(mm).join(' ')}`,
    stroke: BAND,
    'stroke-width': 0.5,
  });
  const marks = rows.map((r) => {
    const [x, middle] = at(r.measured_mm, r.middle_mm);
    return mark(r.attitude, r.inside, x, at(0, r.low_mm)[1], middle, at(0, r.high_mm)[1]);
  });
  return svg + line + marks.join('');
};

/** Sizes are hundreds of mm and known to one: so what is drawn is the difference. */
const sizes = (rows: readonly Compared[], left: number): string => {
  const off = (r: Compared, v: number): number => v - r.measured_mm;
  const x = rangeOf(rows.map((r) => r.measured_mm));
  const y = rangeOf([0, ...rows.flatMap((r) => [off(r, r.low_mm), off(r, r.high_mm)])]);
  const { svg, at } = frame(left, x, y, 'How large they are', 'measured, mm', 'predicted less measured, mm');
  const zero = tag('path', {
    d: `M${mm(left)} ${mm(at(0, 0)[1])}h${SIDE}`,
    stroke: BAND,
    'stroke-width': 0.5,
  });
  const marks = rows.map((r) => {
    const [px, middle] = at(r.measured_mm, off(r, r.middle_mm));
    return mark(r.attitude, r.inside, px, at(0, off(r, r.low_mm))[1], middle, at(0, off(r, r.high_mm))[1]);
  });
  return svg + zero + marks.join('');
};

/** Half the width of the interval of what moves, at the start and after each entry. */
const tightening = (all: readonly Known[], left: number): string => {
  const known = all.map((k, i) => ({ i, mm: k.movement_mm })).filter((k) => Number.isFinite(k.mm));
  const x = { from: -0.4, to: Math.max(1, all.length - 0.6) };
  const y = { from: 0, to: 1.1 * Math.max(0.1, ...known.map((k) => k.mm)) };
  const { svg, at } = frame(
    left,
    x,
    y,
    'How predictions tightened',
    'entries learned from',
    'movement known within ±, mm',
  );
  const path = known.map((k, n) => `${n === 0 ? 'M' : 'L'}${at(k.i, k.mm).map(mm).join(' ')}`).join('');
  const dots = known.map((k) => {
    const [cx, cy] = at(k.i, k.mm);
    return tag('circle', { cx, cy, r: R, fill: INK });
  });
  return svg + tag('path', { d: path, fill: 'none', stroke: INK, 'stroke-width': 0.4 }) + dots.join('');
};

const legend = (rows: readonly Compared[], y: number): string => {
  let x = MARGIN;
  const entries = [
    ...[...new Set(rows.map((r) => r.attitude))].map((a) => ({ text: a, d: shape(a, 0, 0), colour: INK })),
    { text: 'outside its interval of four in five', d: shape('upright', 0, 0), colour: ACCENT },
  ];
  return entries
    .map(({ text, d, colour }) => {
      const drawn =
        `<g transform="translate(${mm(x + R)} ${mm(y - 1)})">${tag('path', { d, fill: colour })}</g>` +
        words(x + 4, y, text, { size: TEXT, colour: INK });
      x += 9 + text.length * TEXT * 0.56;
      return drawn;
    })
    .join('');
};

/** A sheet in mm: what was predicted against what was measured. */
export const rightChart = ({ log, right, tightened }: ToChart): string => {
  const moved = right.rows.filter((r) => r.about === 'movement');
  const sized = right.rows.filter((r) => r.about === 'size');
  const panels = [
    ...(moved.length > 0 ? [(left: number) => movement(moved, left)] : []),
    ...(sized.length > 0 ? [(left: number) => sizes(sized, left)] : []),
    (left: number) => tightening(tightened, left),
  ];
  const width = Math.max(180, 2 * MARGIN + panels.length * SIDE + (panels.length - 1) * GAP + MARGIN);
  const said = [
    right.text,
    ...[...right.byAttitude, ...right.byKiln].map((b) => `${b.text.replace(/\.$/, '')} (${b.about}).`),
  ].flatMap((sentence) => wrapped(sentence, width - 2 * MARGIN, TEXT));
  const below = HEAD + SIDE + 16;
  const whole = below + 8 + said.length * LINE + MARGIN;
  const body = [
    `<title>${escaped(`${log.name}: predicted against measured`)}</title>`,
    tag('rect', { x: 0, y: 0, width, height: whole, fill: PAPER }),
    words(MARGIN, 12, `${log.name}: how right we were`, { size: 5.6, colour: INK, weight: 'bold' }),
    words(MARGIN, 18, 'Bars: what was expected four times in five, before it was learned from.', {
      size: 3.2,
      colour: PALE_INK,
    }),
    ...panels.map((draw, i) => draw(2 * MARGIN + i * (SIDE + GAP))),
    legend(right.rows, below),
    ...said.map((line, i) => words(MARGIN, below + 8 + i * LINE, line, { size: TEXT, colour: INK })),
  ];
  return `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${mm(width)}mm" height="${mm(whole)}mm" viewBox="0 0 ${mm(width)} ${mm(whole)}" font-family="DejaVu Sans, sans-serif">\n${body.join('\n')}\n</svg>\n`;
};
