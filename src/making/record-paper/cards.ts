import type { Box, Page, PageElement, Paper } from '../paper/page.ts';
import { inset, stroke } from '../paper/shapes.ts';
import { placeCode } from './code.ts';
import { cutOut, type Size } from './cut-out.ts';
import type { Coder, PaperPiece } from './paper-piece.ts';
import { LEAST_TEXT_mm, wordsIn } from './words-block.ts';

const CARD: Size = { width_mm: 90, height_mm: 60 };
const PAD_mm = 3.5;
const NUMBER_mm = 24;
/**
 * Letters of which a capital is seen under 22 minutes of arc at 0.7 m, arm's length: what ISO 9241-303 prefers (from
 * memory). A capital of DejaVu has 0.729 of the letter size.
 */
export const ARM_mm = (700 * Math.tan(((22 / 60) * Math.PI) / 180)) / 0.729;
const LINE_mm = 7;

/** What is written on by hand while it stands on the shelf. */
const TO_FILL = ['leather-hard, g', 'bone dry, g', 'firing, shelf'] as const;

const lineToFill = (text: string, left: number, right: number, y: number): PageElement[] => [
  ...wordsIn({ left, right: left + 24, top: y - 3, bottom: y }, [
    { text, most_mm: 2.4, least_mm: LEAST_TEXT_mm, lines: 1 },
  ]),
  stroke([
    [left + 25, y],
    [right, y],
  ]),
];

const cardElements = (piece: PaperPiece, box: Box, coder: Coder): PageElement[] => {
  const ink = inset(box, PAD_mm);
  const { number, title, form, clay, begun } = piece;
  const low = { ...box, top: box.top + NUMBER_mm + PAD_mm };
  const code = placeCode(coder, piece.address, {
    label: low,
    ink: { ...ink, top: low.top },
    most_mm: 30,
    down: 1,
  });
  const left = code.light.right;
  const lines = TO_FILL.map((text, i) =>
    lineToFill(text, left, ink.right, ink.bottom - (TO_FILL.length - 1 - i) * LINE_mm),
  );
  const small = { most_mm: 2.8, least_mm: LEAST_TEXT_mm, lines: 1 };
  return [
    ...wordsIn({ ...ink, bottom: ink.top + NUMBER_mm }, [
      { text: number, most_mm: 20, least_mm: ARM_mm, bold: true, whole: true },
    ]),
    ...wordsIn(
      { left, right: ink.right, top: low.top, bottom: ink.bottom - (TO_FILL.length - 1) * LINE_mm - 4 },
      [
        { ...small, text: title ?? form ?? '', most_mm: 3.4 },
        { ...small, text: [title && form, clay, begun && `begun ${begun}`].filter(Boolean).join(', ') },
      ],
      false,
    ),
    code.element,
    ...lines.flat(),
  ];
};

/** Cards to stand before a piece on the shelf: the number is read at arm's length. */
export const cardPages = (pieces: readonly PaperPiece[], paper: Paper, coder: Coder): Page[] =>
  cutOut(pieces, paper, CARD, (piece, box) => cardElements(piece, box, coder));
