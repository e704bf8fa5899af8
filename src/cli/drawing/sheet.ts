import { escaped, mm } from '../../making/paper/svg-text.ts';
import { ACCENT, INK, PALE_INK, PAPER, sagColour } from './ink.ts';
import { type Legend, legendOf, legendWidth } from './legend.ts';
import { drawPicture, heightFor, LINE, type Picture, TEXT, type ValueMap } from './picture.ts';
import { tag, words, wrapped } from './svg.ts';

export interface Sheet {
  readonly title: string;
  readonly subtitle: string;
  /** What the drawing is, for whoever hears it instead of seeing it. */
  readonly what: string;
  readonly legend: Legend;
  /** How walls are coloured; left out: by sag. */
  readonly map?: ValueMap;
  readonly pictures: readonly Picture[];
  /** What a reader must know to trust the drawing as far as it deserves. */
  readonly notes: readonly string[];
}

const MARGIN = 10;
const GAP = 8;
const HEAD = 22;
const TITLE = 5.6;
/** Mean advance of the bold letters, ems. */
const TITLE_ADVANCE = 0.62;

/** A round number at or above, for the end of a colour scale. */
export const roundAbove = (x: number): number => {
  const power = 10 ** Math.floor(Math.log10(x));
  return [1, 1.5, 2, 3, 4, 5, 6, 8, 10].map((k) => k * power).find((k) => k >= x * (1 - 1e-9)) ?? 10 * power;
};

/** The colour scale never ends below this, so that a piece which hardly moved does not blaze. */
const LEAST_SAG_m = 0.002;

const mostSag_m = (pictures: readonly Picture[]): number =>
  roundAbove(Math.max(LEAST_SAG_m, ...pictures.flatMap(({ after }) => after.flat().map((p) => p.value))));

const scaleBar = (x: number, y: number): string =>
  tag('path', {
    d: `M${mm(x)} ${mm(y - 2.5)}v2.5h50v-2.5m-25 2.5v-1.5`,
    fill: 'none',
    stroke: INK,
    'stroke-width': 0.3,
  }) + words(x + 53, y, '50 mm; printed at full size this drawing is 1 : 1', { size: TEXT, colour: INK });

/** A sheet of sections at true size: its user unit is the millimetre, and so are its width and height on paper. */
export const drawSheet = (sheet: Sheet): string => {
  const map = sheet.map ?? { most_m: mostSag_m(sheet.pictures), colour: sagColour };
  const height = heightFor(sheet.pictures);
  const drawn: string[] = [];
  let x = MARGIN;
  let textHeight = 0;
  for (const picture of sheet.pictures) {
    const done = drawPicture(picture, x, HEAD, height, map);
    drawn.push(done.svg);
    x += done.width + GAP;
    textHeight = Math.max(textHeight, done.textHeight);
  }
  const width = Math.max(
    x - GAP + MARGIN,
    legendWidth(sheet.legend) + 2 * MARGIN,
    sheet.title.length * TITLE * TITLE_ADVANCE + 2 * MARGIN,
  );
  const below = HEAD + height + textHeight + 6;
  const notes = sheet.notes.flatMap((note) => wrapped(note, width - 2 * MARGIN, TEXT));
  const whole = below + 14 + notes.length * LINE + 4;
  const body = [
    `<title>${escaped(`${sheet.title}: ${sheet.what}`)}</title>`,
    tag('rect', { x: 0, y: 0, width, height: whole, fill: PAPER }),
    words(MARGIN, 11, sheet.title, { size: TITLE, colour: INK, weight: 'bold' }),
    words(MARGIN, 17, sheet.subtitle, { size: 3.2, colour: PALE_INK }),
    ...drawn,
    legendOf(sheet.legend, MARGIN, below, map),
    scaleBar(MARGIN, below + 8),
    ...notes.map((line, i) => words(MARGIN, below + 15 + i * LINE, line, { size: TEXT, colour: ACCENT })),
  ];
  const box = `0 0 ${mm(width)} ${mm(whole)}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${mm(width)}mm" height="${mm(whole)}mm" viewBox="${box}" font-family="DejaVu Sans, sans-serif">\n${body.join('\n')}\n</svg>\n`;
};
