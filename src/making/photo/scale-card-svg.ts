import { badInput } from '../../error.ts';
import { takePhotograph } from './photo-protocol.ts';
import {
  CARD_MARGIN_m,
  DISC_RADIUS_m,
  discMiddles,
  HOLE_RADIUS_m,
  SCALE_CARDS,
  type ScaleCard,
} from './scale-card.ts';

/** Sheets on their long side, mm (ISO 216 A4; ANSI/ASME Y14.1 A, rounded to a tenth). */
const SHEETS = { A4: [297, 210], Letter: [279.4, 215.9] } as const;
export type Paper = keyof typeof SHEETS;

const RULER_mm = 100;
/** Printers leave so much of the sheet white. */
const EDGE_mm = 5;

const n = (x: number): string => String(Math.round(1000 * x) / 1000);
const text = (x: number, y: number, size: number, words: string, anchor = 'start'): string =>
  `<text x="${n(x)}" y="${n(y)}" font-size="${size}" fill="#555" text-anchor="${anchor}">${words}</text>`;

/** A ruler of 100 mm with a line every 10, to check that the printer kept the size. */
const ruler = (x: number, y: number): string[] => [
  ...Array.from({ length: 11 }, (_, i) => {
    const at = n(x + (RULER_mm / 10) * i);
    return `<path d="M${at} ${n(y)}V${n(y - 6)}" stroke="#111" stroke-width="0.3"/>`;
  }),
  text(x + RULER_mm / 2, y + 4.5, 3, '100 mm from first line to last: check with a rule', 'middle'),
];

/** The scale card itself with its lower left corner at (left, bottom) of the sheet. */
const cardParts = (card: ScaleCard, left: number, bottom: number): string[] => {
  const margin = 1000 * CARD_MARGIN_m;
  const [wide, high] = [1000 * card.across_m + 2 * margin, 1000 * card.up_m + 2 * margin];
  const discs = discMiddles(card).flatMap(([dx, dz], i) => {
    const [x, y] = [n(left + margin + 1000 * dx), n(bottom - 1000 * dz)];
    const disc = `<circle cx="${x}" cy="${y}" r="${n(1000 * DISC_RADIUS_m)}" fill="#000"/>`;
    const hole = `<circle cx="${x}" cy="${y}" r="${n(1000 * HOLE_RADIUS_m)}" fill="#fff"/>`;
    return i < card.rings ? [disc, hole] : [disc];
  });
  const middle = left + wide / 2;
  return [
    `<rect x="${n(left)}" y="${n(bottom - high)}" width="${n(wide)}" height="${n(high)}" fill="#fff" stroke="#bbb" stroke-width="0.2"/>`,
    ...discs,
    ...ruler(middle - RULER_mm / 2, bottom - 30),
    text(middle, bottom - high + margin + 12, 4, `Afterfire scale card, ${card.name}`, 'middle'),
    text(
      middle,
      bottom - high + margin + 18,
      3,
      `middles of the discs ${n(1000 * card.across_m)} mm across, ${n(1000 * card.up_m)} mm up`,
      'middle',
    ),
    text(middle, bottom - 3, 3, 'cut along the lines; this edge stands on the shelf', 'middle'),
  ];
};

/**
 * The printable scale card with its ruler and the words for taking the photograph, as an SVG in true mm.
 * @throws AfterfireError `bad-input` for a sheet or card we do not know
 */
export const scaleCardSvg = (paper: Paper, cardName: ScaleCard['name'] = 'small'): string => {
  const sheet = SHEETS[paper];
  if (!sheet) throw badInput('paper', paper, Object.keys(SHEETS).join(' or '));
  const card = SCALE_CARDS.find((c) => c.name === cardName);
  if (!card) throw badInput('card', cardName, SCALE_CARDS.map((c) => c.name).join(' or '));
  const [width, height] = sheet;
  const margin = 1000 * CARD_MARGIN_m;
  const [wide, high] = [1000 * card.across_m + 2 * margin, 1000 * card.up_m + 2 * margin];
  const bottom = EDGE_mm + 2 + high;
  const words = takePhotograph.steps.map((step, i) => text(2 * EDGE_mm, bottom + 5 + 4.4 * i, 3, step));
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${n(width)}mm" height="${n(height)}mm" viewBox="0 0 ${n(width)} ${n(height)}" font-family="DejaVu Sans, sans-serif">`,
    `<rect width="${n(width)}" height="${n(height)}" fill="#fff"/>`,
    ...cardParts(card, (width - wide) / 2, bottom),
    ...words,
    '</svg>\n',
  ].join('\n');
};
