import { badInput } from '../../error.ts';
import type { Box, Page, PageElement } from '../paper/page.ts';
import { placeCode } from './code.ts';
import { inkOn, type LabelSheet, labelAt } from './label-sheet.ts';
import type { Coder, PaperPiece } from './paper-piece.ts';
import { LEAST_TEXT_mm, type Words, wordsIn } from './words-block.ts';

const LARGEST_CODE_mm = 26;

const wordsOf = ({ number, title, form, clay, begun }: PaperPiece): Words[] => [
  { text: number, most_mm: 9, least_mm: LEAST_TEXT_mm, bold: true, whole: true, share: 0.5, lines: 2 },
  { text: title ?? '', most_mm: 3.4, least_mm: LEAST_TEXT_mm, lines: 2, share: 0.4 },
  { text: form ?? '', most_mm: 3, least_mm: LEAST_TEXT_mm, lines: 3 },
  { text: [clay, begun].filter(Boolean).join(', '), most_mm: 2.4, least_mm: LEAST_TEXT_mm, lines: 2 },
];

/** Beside one another on a wide label, under one another on a high one. */
const labelElements = (piece: PaperPiece, label: Box, ink: Box, coder: Coder): PageElement[] => {
  const wide = label.right - label.left >= label.bottom - label.top;
  const most_mm = Math.min(LARGEST_CODE_mm, (wide ? 0.6 : 1) * (label.right - label.left));
  const code = placeCode(coder, piece.address, { label, ink, most_mm, down: wide ? 0.5 : 0 });
  const free = wide ? { ...ink, left: code.light.right } : { ...ink, top: code.light.bottom };
  return [code.element, ...wordsIn(free, wordsOf(piece))];
};

/**
 * Labels to stick on: number, form and code of each piece.
 * @param first which label of the first sheet is the first free one, from 1, along the rows
 * @throws AfterfireError `bad-input` where a label is too small for what it must carry
 */
export const labelPages = (
  pieces: readonly PaperPiece[],
  sheet: LabelSheet,
  coder: Coder,
  first = 1,
): Page[] => {
  const onSheet = sheet.columns * sheet.rows;
  if (!Number.isInteger(first) || first < 1 || first > onSheet)
    throw badInput('first', first, `a label of the sheet, 1 to ${onSheet}`);
  const pages: PageElement[][] = [];
  pieces.forEach((piece, i) => {
    const place = first - 1 + i;
    const label = labelAt(sheet, place % onSheet);
    if (i === 0 || place % onSheet === 0) pages.push([]);
    pages.at(-1)?.push(...labelElements(piece, label, inkOn(label, sheet), coder));
  });
  const { width_mm, height_mm } = sheet;
  return pages.map((elements) => ({ paper: { width_mm, height_mm }, elements }));
};
