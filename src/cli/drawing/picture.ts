import { mm } from '../../making/paper/svg-text.ts';
import { ACCENT, BAND, GRID_FINE, GRID_STRONG, INK, PALE_INK, PROP } from './ink.ts';
import type { PropLines } from './props.ts';
import type { CutLine } from './section.ts';
import { type Flat, pathOf, tag, words, wrapped } from './svg.ts';
import { outlineOf, shadedWall } from './wall.ts';

/** A line on or beside the piece; what is at fault is drawn in red. */
export interface Mark {
  readonly line: Flat;
  readonly closed: boolean;
  readonly bad: boolean;
  /** Drawn as this says in place of that. */
  readonly look?: Readonly<Record<string, string | number>>;
}

/** How the values along a wall are coloured: from 0 to `most_m`. */
export interface ValueMap {
  readonly most_m: number;
  readonly colour: (share: number) => string;
}

/** One picture of the sheet: a cut through the piece before and after the fire. */
export interface Picture {
  readonly caption: string;
  readonly before: readonly CutLine[];
  readonly after: readonly CutLine[];
  /** Cuts of shapes the clay or the kiln might as well have made: together they sweep a band. */
  readonly band?: readonly (readonly CutLine[])[];
  readonly props?: readonly PropLines[];
  readonly marks?: readonly Mark[];
  readonly sentences: readonly string[];
  /** Where along u another picture of the sheet is cut. */
  readonly cutAt_m?: number | undefined;
}

const AIR = 10;
const LEAST_WIDTH = 72;
export const TEXT = 3;
export const LINE = 4.2;

interface Extent {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

type OnPaper = (u_m: number, z_m: number) => readonly [number, number];

/** Every point that must fit, m. */
const pointsOf = ({ before, after, band = [], props = [], marks = [] }: Picture): Flat => [
  ...[...before, ...after, ...band.flat()]
    .flat()
    .flatMap(({ u_m, z_m, halfU_m, halfZ_m }) => [
      [u_m + halfU_m, z_m + halfZ_m] as const,
      [u_m - halfU_m, z_m - halfZ_m] as const,
    ]),
  ...props.flatMap(({ lines }) => lines.flat()),
  ...marks.flatMap(({ line }) => line),
];

const extentOf = (picture: Picture): Extent => {
  let [left, right, low, high] = [0, 0, 0, 0];
  for (const [u, z] of pointsOf(picture)) {
    left = Math.min(left, 1000 * u);
    right = Math.max(right, 1000 * u);
    low = Math.min(low, 1000 * z);
    high = Math.max(high, 1000 * z);
  }
  return { left, right, low, high };
};

const upTo10 = (x: number): number => 10 * Math.ceil(x / 10);

/** What height of paper these pictures need above the shelf, mm. */
export const heightFor = (pictures: readonly Picture[]): number =>
  upTo10(Math.max(...pictures.map((p) => extentOf(p).high)) + AIR);

/** Behind the cut a prop is a thin line; where it is cut it is a body. */
const drawProp = ({ lines, beyond, bad }: PropLines, at: OnPaper): string =>
  tag('path', {
    d: lines
      .map((line) =>
        pathOf(
          line.map(([u, z]) => at(u, z)),
          true,
        ),
      )
      .join(''),
    fill: beyond ? 'none' : PROP,
    stroke: bad ? ACCENT : PALE_INK,
    'stroke-width': bad ? 0.7 : beyond ? 0.18 : 0.3,
    'stroke-linejoin': 'round',
  });

const drawMark = ({ line, closed, bad, look }: Mark, at: OnPaper): string =>
  tag('path', {
    d: pathOf(
      line.map(([u, z]) => at(u, z)),
      closed,
    ),
    fill: 'none',
    stroke: bad ? ACCENT : PALE_INK,
    'stroke-width': bad ? 0.7 : 0.25,
    'stroke-linejoin': 'round',
    ...look,
  });

/** The shapes are drawn full on one another, and only the whole of them let through: an even shade. */
const drawBand = (band: readonly (readonly CutLine[])[], at: OnPaper): string =>
  band.length === 0
    ? ''
    : tag(
        'g',
        { opacity: 0.5, fill: BAND, stroke: 'none', 'fill-rule': 'evenodd' },
        band.map((lines) => tag('path', { d: lines.map((line) => outlineOf(line, at)).join('') })).join(''),
      );

const drawPiece = ({ before, after }: Picture, at: OnPaper, { most_m, colour }: ValueMap): string[] => [
  // The fill goes over the inner half of the line: where a sharp corner folds the line, only its outside shows.
  tag('path', {
    d: after.map((line) => outlineOf(line, at)).join(''),
    fill: INK,
    'fill-rule': 'evenodd',
    stroke: INK,
    'stroke-width': 0.7,
    'stroke-linejoin': 'round',
  }),
  ...after.map((line) => shadedWall(line, at, most_m, colour)),
  tag('path', {
    d: before.map((line) => outlineOf(line, at)).join(''),
    fill: 'none',
    stroke: PALE_INK,
    'stroke-width': 0.28,
    'stroke-dasharray': '1.6 1.1',
    'stroke-linejoin': 'round',
  }),
];

/** Draws one picture with its left edge at x and its shelf `height` below `top`; all in mm of paper. */
export const drawPicture = (picture: Picture, x: number, top: number, height: number, map: ValueMap) => {
  const extent = extentOf(picture);
  const width = Math.max(LEAST_WIDTH, upTo10(extent.right - extent.left + 2 * AIR));
  const middle = x + width / 2 - (extent.left + extent.right) / 2;
  // The grid is counted from the shelf and the axis, so that a line of it reads as a height or a radius.
  const shelf = top + height;
  const at: OnPaper = (u_m, z_m) => [middle + 1000 * u_m, shelf - 1000 * z_m];
  const { props = [], marks = [] } = picture;
  const said = picture.sentences.flatMap((sentence) => wrapped(sentence, width, TEXT));
  const parts = [
    grid(x, top, width, height, middle, shelf),
    ...[...props].sort((a, b) => Number(b.beyond) - Number(a.beyond)).map((prop) => drawProp(prop, at)),
    drawBand(picture.band ?? [], at),
    ...drawPiece(picture, at, map),
    ...[...marks].sort((a, b) => Number(a.bad) - Number(b.bad)).map((mark) => drawMark(mark, at)),
    ...(picture.cutAt_m === undefined ? [] : [cutMark(at(picture.cutAt_m, 0)[0], top, height)]),
    tag('path', { d: `M${mm(x)} ${mm(shelf)}h${mm(width)}`, stroke: INK, 'stroke-width': 0.8 }),
    words(x, shelf + 7, picture.caption, { size: 4, colour: INK, weight: 'bold' }),
    ...said.map((line, i) => words(x, shelf + 12.5 + i * LINE, line, { size: TEXT, colour: INK })),
  ];
  return {
    svg: parts.filter((part) => part !== '').join('\n'),
    width,
    textHeight: 12.5 + said.length * LINE,
  };
};

/** The dash-dot line by which drawings show where another view is cut. */
const cutMark = (x: number, top: number, height: number): string =>
  tag('path', {
    d: `M${mm(x)} ${mm(top)}v${mm(height)}`,
    stroke: ACCENT,
    'stroke-width': 0.25,
    'stroke-dasharray': '5 1 0.8 1',
  });

const grid = (
  x: number,
  top: number,
  width: number,
  height: number,
  middle: number,
  shelf: number,
): string => {
  const lines = (step: number): string => {
    let d = '';
    for (let u = middle - step * Math.floor((middle - x) / step); u <= x + width + 1e-6; u += step)
      d += `M${mm(u)} ${mm(top)}v${mm(height)}`;
    for (let y = shelf; y >= top - 1e-6; y -= step) d += `M${mm(x)} ${mm(y)}h${mm(width)}`;
    return d;
  };
  return (
    tag('path', { d: lines(1), stroke: GRID_FINE, 'stroke-width': 0.1 }) +
    tag('path', { d: lines(10), stroke: GRID_STRONG, 'stroke-width': 0.16 })
  );
};
