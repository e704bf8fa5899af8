import { ACCENT, GRID_FINE, GRID_STRONG, INK, PALE_INK, PAPER, sagColour } from './ink.ts';
import type { CutLine } from './section.ts';
import { escaped, mm, tag, words, wrapped } from './svg.ts';
import { outlineOf, shadedWall } from './wall.ts';

/** One picture of the sheet: a cut through the piece before and after the fire. */
export interface Picture {
  readonly caption: string;
  readonly before: readonly CutLine[];
  readonly after: readonly CutLine[];
  readonly sentences: readonly string[];
  /** Where along u another picture of the sheet is cut. */
  readonly cutAt_m?: number | undefined;
}

export interface Sheet {
  readonly title: string;
  readonly subtitle: string;
  readonly pictures: readonly Picture[];
  /** What a reader must know to trust the drawing as far as it deserves. */
  readonly notes: readonly string[];
}

const MARGIN = 10;
const GAP = 8;
const AIR = 10;
const LEAST_WIDTH = 72;
const TEXT = 3;
const LINE = 4.2;
const HEAD = 22;

interface Extent {
  readonly left: number;
  readonly right: number;
  readonly low: number;
  readonly high: number;
}

const extentOf = ({ before, after }: Picture): Extent => {
  const points = [...before, ...after].flat();
  const us = points.flatMap((p) => [p.u_m + p.halfU_m, p.u_m - p.halfU_m]).map((u) => 1000 * u);
  const zs = points.flatMap((p) => [p.z_m + p.halfZ_m, p.z_m - p.halfZ_m]).map((z) => 1000 * z);
  const reach = (values: number[], pick: (a: number, b: number) => number): number =>
    values.reduce((a, b) => pick(a, b), 0);
  return {
    left: reach(us, Math.min),
    right: reach(us, Math.max),
    low: reach(zs, Math.min),
    high: reach(zs, Math.max),
  };
};

const upTo10 = (x: number): number => 10 * Math.ceil(x / 10);

/** A round number at or above, for the end of a colour scale. */
const roundAbove = (x: number): number => {
  const power = 10 ** Math.floor(Math.log10(x));
  return [1, 1.5, 2, 3, 4, 5, 6, 8, 10].map((k) => k * power).find((k) => k >= x * (1 - 1e-9)) ?? 10 * power;
};

/** The colour scale never ends below this, so that a piece which hardly moved does not blaze. */
const LEAST_SAG_m = 0.002;

const mostSag_m = (pictures: readonly Picture[]): number =>
  roundAbove(Math.max(LEAST_SAG_m, ...pictures.flatMap(({ after }) => after.flat().map((p) => p.value))));

const drawPicture = (picture: Picture, x: number, top: number, height: number, most_m: number) => {
  const extent = extentOf(picture);
  const width = Math.max(LEAST_WIDTH, upTo10(extent.right - extent.left + 2 * AIR));
  const middle = x + width / 2 - (extent.left + extent.right) / 2;
  // The grid is counted from the shelf and the axis, so that a line of it reads as a height or a radius.
  const shelf = top + height;
  const at = (u_m: number, z_m: number) => [middle + 1000 * u_m, shelf - 1000 * z_m] as const;
  const before = picture.before.map((line) => outlineOf(line, at)).join('');
  const after = picture.after.map((line) => outlineOf(line, at)).join('');
  const said = picture.sentences.flatMap((sentence) => wrapped(sentence, width, TEXT));
  const parts = [
    grid(x, top, width, height, middle, shelf),
    // The fill goes over the inner half of the line: where a sharp corner folds the line, only its outside shows.
    tag('path', {
      d: after,
      fill: INK,
      'fill-rule': 'evenodd',
      stroke: INK,
      'stroke-width': 0.7,
      'stroke-linejoin': 'round',
    }),
    ...picture.after.map((line) => shadedWall(line, at, most_m, sagColour)),
    tag('path', {
      d: before,
      fill: 'none',
      stroke: PALE_INK,
      'stroke-width': 0.28,
      'stroke-dasharray': '1.6 1.1',
      'stroke-linejoin': 'round',
    }),
    ...(picture.cutAt_m === undefined ? [] : [cutMark(at(picture.cutAt_m, 0)[0], top, height)]),
    tag('path', { d: `M${mm(x)} ${mm(shelf)}h${mm(width)}`, stroke: INK, 'stroke-width': 0.8 }),
    words(x, shelf + 7, picture.caption, { size: 4, colour: INK, weight: 'bold' }),
    ...said.map((line, i) => words(x, shelf + 12.5 + i * LINE, line, { size: TEXT, colour: INK })),
  ];
  return { svg: parts.join('\n'), width, textHeight: 12.5 + said.length * LINE };
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

const legend = (x: number, y: number, most_m: number): string => {
  const ramp = Array.from({ length: 25 }, (_, i) =>
    tag('rect', { x: x + 106 + i * 1.6, y: y - 3, width: 1.65, height: 3, fill: sagColour(i / 24) }),
  ).join('');
  const label = (at: number, text: string): string => words(x + at, y, text, { size: TEXT, colour: INK });
  return [
    tag('path', {
      d: `M${mm(x)} ${mm(y - 1)}h10`,
      stroke: PALE_INK,
      'stroke-width': 0.28,
      'stroke-dasharray': '1.6 1.1',
    }),
    label(12, 'before: bone dry'),
    tag('path', { d: `M${mm(x + 46)} ${mm(y - 1)}h10`, stroke: INK, 'stroke-width': 0.35 }),
    label(58, 'after: fired'),
    label(94, 'sag  0'),
    ramp,
    label(148, `${mm(1000 * most_m)} mm`),
  ].join('');
};

const scaleBar = (x: number, y: number): string =>
  tag('path', {
    d: `M${mm(x)} ${mm(y - 2.5)}v2.5h50v-2.5m-25 2.5v-1.5`,
    fill: 'none',
    stroke: INK,
    'stroke-width': 0.3,
  }) + words(x + 53, y, '50 mm; printed at full size this drawing is 1 : 1', { size: TEXT, colour: INK });

/** A sheet of sections at true size: its user unit is the millimetre, and so are its width and height on paper. */
export const drawSheet = (sheet: Sheet): string => {
  const most_m = mostSag_m(sheet.pictures);
  const height = upTo10(Math.max(...sheet.pictures.map((p) => extentOf(p).high)) + AIR);
  const drawn: string[] = [];
  let x = MARGIN;
  let textHeight = 0;
  for (const picture of sheet.pictures) {
    const done = drawPicture(picture, x, HEAD, height, most_m);
    drawn.push(done.svg);
    x += done.width + GAP;
    textHeight = Math.max(textHeight, done.textHeight);
  }
  const width = Math.max(x - GAP + MARGIN, 180);
  const below = HEAD + height + textHeight + 6;
  const notes = sheet.notes.flatMap((note) => wrapped(note, width - 2 * MARGIN, TEXT));
  const whole = below + 14 + notes.length * LINE + 4;
  const body = [
    // For whoever hears the drawing instead of seeing it.
    `<title>${escaped(`${sheet.title}: sections before and after the fire`)}</title>`,
    tag('rect', { x: 0, y: 0, width, height: whole, fill: PAPER }),
    words(MARGIN, 11, sheet.title, { size: 5.6, colour: INK, weight: 'bold' }),
    words(MARGIN, 17, sheet.subtitle, { size: 3.2, colour: PALE_INK }),
    ...drawn,
    legend(MARGIN, below, most_m),
    scaleBar(MARGIN, below + 8),
    ...notes.map((line, i) => words(MARGIN, below + 15 + i * LINE, line, { size: TEXT, colour: ACCENT })),
  ];
  const box = `0 0 ${mm(width)} ${mm(whole)}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${mm(width)}mm" height="${mm(whole)}mm" viewBox="${box}" font-family="DejaVu Sans, sans-serif">\n${body.join('\n')}\n</svg>\n`;
};
