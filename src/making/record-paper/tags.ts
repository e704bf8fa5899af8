import { badInput } from '../../error.ts';
import type { Box, Page, PageElement, Paper } from '../paper/page.ts';
import { circle, cross, inset } from '../paper/shapes.ts';
import { placeCode } from './code.ts';
import { cutOut, type Size } from './cut-out.ts';
import { amountText, type Coder, type PaperPiece } from './paper-piece.ts';
import { LEAST_TEXT_mm, type Words, wordsIn } from './words-block.ts';

export const TAG: Size = { width_mm: 45, height_mm: 80 };
const LEAST: Size = { width_mm: 25, height_mm: 50 };
const PAD_mm = 3;
const HOLE = { radius_mm: 2, down_mm: 7 };

export interface TagOptions {
  readonly size?: Size;
  readonly studio: string;
  readonly price?: boolean;
}

const sizeText = ({ state }: PaperPiece): string => {
  const { height_mm, widest_mm } = state.sizes.fired ?? {};
  const across = widest_mm === undefined ? '' : `, ${widest_mm} mm across`;
  return height_mm === undefined ? across.slice(2) : `${height_mm} mm high${across}`;
};

const wordsOf = (piece: PaperPiece, { studio, price }: TagOptions): Words[] => {
  const small = { most_mm: 3.2, least_mm: LEAST_TEXT_mm, lines: 2 };
  const { number, title, form, clay, state } = piece;
  const cost = price && state.price ? amountText(state.price.minor, state.price.currency) : '';
  return [
    { text: number, most_mm: 9, least_mm: 2.4, bold: true, whole: true, share: 0.4 },
    { text: title ?? '', most_mm: 4.8, least_mm: LEAST_TEXT_mm, lines: 2 },
    // What it costs is never cut and never left out for a long name.
    { text: cost, most_mm: 5, least_mm: LEAST_TEXT_mm, whole: cost !== '', lines: 1 },
    { text: form ?? '', ...small, most_mm: 4 },
    { text: sizeText(piece), ...small },
    { text: clay ?? '', ...small },
    { text: studio, ...small },
  ];
};

const tagElements = (piece: PaperPiece, box: Box, coder: Coder, options: TagOptions): PageElement[] => {
  const ink = inset(box, PAD_mm);
  const middle = (box.left + box.right) / 2;
  const hole = box.top + HOLE.down_mm;
  const most_mm = Math.min(26, 0.42 * (box.bottom - box.top));
  const code = placeCode(coder, piece.address, { label: box, ink, most_mm, down: 1 });
  const words = {
    ...ink,
    top: hole + HOLE.radius_mm + 1.5,
    bottom: Math.min(ink.bottom, code.light.top),
  };
  return [
    circle(middle, hole, HOLE.radius_mm),
    ...cross(middle, hole, HOLE.radius_mm / 2),
    ...wordsIn(words, wordsOf(piece, options), false),
    code.element,
  ];
};

/** Tags to hang on: cut out, punch the hole, thread a string. */
export const tagPages = (
  pieces: readonly PaperPiece[],
  paper: Paper,
  coder: Coder,
  options: TagOptions,
): Page[] => {
  const { size = TAG } = options;
  if (size.width_mm < LEAST.width_mm || size.height_mm < LEAST.height_mm)
    throw badInput(
      'size',
      `${size.width_mm} × ${size.height_mm} mm`,
      `at least ${LEAST.width_mm} × ${LEAST.height_mm} mm`,
    );
  return cutOut(pieces, paper, size, (piece, box) => tagElements(piece, box, coder, options));
};
