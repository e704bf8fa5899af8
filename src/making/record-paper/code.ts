import { badInput } from '../../error.ts';
import type { Box, PageFill } from '../paper/page.ts';
import type { Coder, Squares } from './paper-piece.ts';

/** A code drawn in mm. */

/** Light on every side, in squares: ISO/IEC 18004. */
const QUIET = 4;
/** A telephone held close still reads this (GS1 asks 0.396 mm of codes in shops; from memory). */
export const LEAST_SQUARE_mm = 0.4;
/** Beyond it a code only takes room. */
const MOST_SQUARE_mm = 0.85;
/** Squares are whole dots of a printer of 300 to an inch, so that none comes out narrower than its neighbours. */
const DOT_mm = 25.4 / 300;

export interface PlacedCode {
  readonly element: PageFill;
  /** What is dark, and what must stay light around it. */
  readonly dark: Box;
  readonly light: Box;
}

/** The largest square of a code in so much room, or undefined where it would be too small to be read. */
const squareIn = (side: number, room_mm: number): number | undefined => {
  const dots = Math.floor(Math.min(room_mm / side, MOST_SQUARE_mm) / DOT_mm + 1e-6);
  return dots * DOT_mm < LEAST_SQUARE_mm ? undefined : dots * DOT_mm;
};

/** Each run of dark squares of a row as one rectangle. */
const runs = ({ side, dark }: Squares, x: number, y: number, square: number): PageFill['rings_mm'] => {
  const rings: (readonly (readonly [number, number])[])[] = [];
  for (let row = 0; row < side; row++)
    for (let from = 0; from < side; from++) {
      if (!dark(row, from)) continue;
      let to = from;
      while (to < side && dark(row, to)) to++;
      const [left, right] = [x + from * square, x + to * square];
      const [top, bottom] = [y + row * square, y + (row + 1) * square];
      rings.push([
        [left, top],
        [right, top],
        [right, bottom],
        [left, bottom],
      ]);
      from = to;
    }
  return rings;
};

/**
 * The code of a text in the upper left of a label.
 * @param label where the paper ends: the light around the code lies within
 * @param ink where ink may be
 * @param most_mm no larger than this, light and all
 * @param down where in the free height: 0 above, 1 below
 * @throws AfterfireError `bad-input` where it would be too small to be read
 */
export const placeCode = (
  coder: Coder,
  text: string,
  { label, ink, most_mm, down = 0.5 }: { label: Box; ink: Box; most_mm: number; down?: number },
): PlacedCode => {
  const squares = coder(text);
  const { side } = squares;
  const width = Math.min(most_mm, label.right - label.left);
  const height = Math.min(most_mm, label.bottom - label.top);
  const all = side + 2 * QUIET;
  const room = Math.min(
    (width * side) / all,
    (height * side) / all,
    ink.right - ink.left,
    ink.bottom - ink.top,
  );
  const square = squareIn(side, room);
  if (square === undefined)
    throw badInput(
      'code',
      `"${text}" in ${room.toFixed(1)} mm`,
      `at least ${(side * LEAST_SQUARE_mm).toFixed(1)} mm for a code that can be read: take a larger label or a shorter text`,
    );
  const quiet = QUIET * square;
  const x = Math.max(ink.left, label.left + quiet);
  const lowest = Math.min(ink.bottom, label.bottom - quiet) - side * square;
  const highest = Math.max(ink.top, label.top + quiet);
  const y = highest + Math.max(0, lowest - highest) * down;
  const dark = { left: x, top: y, right: x + side * square, bottom: y + side * square };
  return {
    element: { kind: 'fill', rings_mm: runs(squares, x, y, square) },
    dark,
    light: { left: x - quiet, top: y - quiet, right: dark.right + quiet, bottom: dark.bottom + quiet },
  };
};
