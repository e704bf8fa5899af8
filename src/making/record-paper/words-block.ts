import { badInput } from '../../error.ts';
import { type Fit, fitted, placedText, printable } from '../paper/fitted.ts';
import type { Box, PageElement } from '../paper/page.ts';

/** Lines of words under one another in a box, each as large as it may be; what finds no room is left out. */

export interface Words extends Omit<Fit, 'width_mm' | 'height_mm'> {
  readonly text: string;
  /** Of the height of the box, at most. */
  readonly share?: number;
}

const GAP_mm = 0.4;

export const wordsIn = (box: Box, words: readonly Words[], centred = true): PageElement[] => {
  const width_mm = box.right - box.left;
  const height_mm = box.bottom - box.top;
  let used = 0;
  const rows: PageElement[] = [];
  for (const { text, share = 1, ...fit } of words) {
    if (printable(text) === '') continue;
    const free = height_mm - used - (used > 0 ? GAP_mm : 0);
    const found = fitted(text, { ...fit, width_mm, height_mm: Math.min(free, share * height_mm) });
    if (!found && fit.whole)
      throw badInput(
        'pieces',
        text,
        `a number that can be read in ${width_mm.toFixed(1)} × ${height_mm.toFixed(1)} mm: take a larger label`,
      );
    if (!found) continue;
    used += used > 0 ? GAP_mm : 0;
    rows.push(...placedText(found, box.left, box.top + used, fit.bold));
    used += found.height_mm;
  }
  const down = centred ? (height_mm - used) / 2 : 0;
  return rows.map((row) => (row.kind === 'text' ? { ...row, y_mm: row.y_mm + down } : row));
};

/** Five points: the least that is still read without a glass (common practice, no source). */
export const LEAST_TEXT_mm = 1.77;
