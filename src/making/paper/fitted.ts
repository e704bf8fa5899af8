import { ASCENT, brokenInto, DESCENT, textWidth_mm } from './letters.ts';
import type { PageText } from './page.ts';

/** Text made to fit a box: first smaller, then on more lines, then cut, so that it never runs into what stands beside it. */

export interface Fit {
  readonly width_mm: number;
  readonly height_mm: number;
  /** Letter size, em. */
  readonly most_mm: number;
  readonly least_mm: number;
  readonly bold?: boolean;
  readonly lines?: number;
  /** It must never be cut: a number that lost a figure is another number. */
  readonly whole?: boolean;
}

export interface Fitted {
  readonly size_mm: number;
  readonly lines: readonly string[];
  readonly height_mm: number;
}

/** From line to line, in letter sizes: the font's own lines just clear one another. */
const LEADING = 1.18;
const SMALLER = 0.95;

/** What can be printed: runs of blanks as one, and none of the characters that draw nothing. */
export const printable = (text: string): string =>
  text
    .replace(/[\s\u00a0]+/gu, ' ')
    .replace(/\p{C}/gu, '')
    .trim();

/** Words wider than a line broken between letters. */
const byLetter = (text: string, width: number, size: number, bold: boolean): string[] =>
  brokenInto(text, width, size, bold).flatMap((line) => {
    const parts: string[] = [''];
    for (const letter of line) {
      const longer = parts[parts.length - 1] + letter;
      if (parts.at(-1) !== '' && textWidth_mm(longer, size, bold) > width) parts.push(letter);
      else parts[parts.length - 1] = longer;
    }
    return parts;
  });

const cut = (line: string, width: number, size: number, bold: boolean): string => {
  let letters = [...line];
  while (letters.length > 0 && textWidth_mm(`${letters.join('').trimEnd()}…`, size, bold) > width)
    letters = letters.slice(0, -1);
  return `${letters.join('').trimEnd()}…`;
};

const heightOf = (lines: number, size: number): number => ((lines - 1) * LEADING + ASCENT + DESCENT) * size;

/**
 * The largest letters in which it fits.
 * @returns undefined where not even one line of the least letters fits, or a whole text would have to be cut
 */
export const fitted = (given: string, fit: Fit): Fitted | undefined => {
  const { width_mm, height_mm, most_mm, least_mm, bold = false, whole = false, lines: most = 99 } = fit;
  const text = printable(given);
  const room = (size: number): number =>
    Math.min(most, Math.floor(((height_mm + 1e-9) / size - ASCENT - DESCENT) / LEADING) + 1);
  const done = (lines: readonly string[], size_mm: number): Fitted => ({
    size_mm,
    lines,
    height_mm: heightOf(lines.length, size_mm),
  });
  const narrow = (lines: readonly string[], size: number): boolean =>
    lines.every((line) => textWidth_mm(line, size, bold) <= width_mm);
  for (let size = most_mm; size >= least_mm; size *= SMALLER) {
    const lines = brokenInto(text, width_mm, size, bold);
    if (lines.length <= room(size) && narrow(lines, size)) return done(lines, size);
  }
  const lines = byLetter(text, width_mm, least_mm, bold);
  const fits = room(least_mm);
  if (fits < 1 || !narrow(lines, least_mm)) return undefined;
  if (lines.length <= fits) return done(lines, least_mm);
  if (whole) return undefined;
  return done(
    [...lines.slice(0, fits - 1), cut(lines.slice(fits - 1).join(' '), width_mm, least_mm, bold)],
    least_mm,
  );
};

/** Its lines with their upper edge at y. */
export const placedText = (
  { lines, size_mm }: Fitted,
  x_mm: number,
  y_mm: number,
  bold = false,
): PageText[] =>
  lines.map((text, i) => ({
    kind: 'text',
    x_mm,
    y_mm: y_mm + (ASCENT + i * LEADING) * size_mm,
    size_mm,
    text,
    bold,
  }));
