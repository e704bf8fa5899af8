import { badInput } from '../../error.ts';

const MOST = 2000;

/** `R-101` → `R-` and `101`. */
const partsOf = (number: string): { readonly head: string; readonly figures: string } | undefined => {
  const [, head, figures] = /^(.*?)(\d{1,9})$/u.exec(number.trim()) ?? [];
  return figures === undefined ? undefined : { head, figures };
};

/** Every way to read a text as `first-last`; numbers may have strokes of their own. */
const rangeOf = (text: string): readonly string[] | undefined => {
  for (const { index } of text.matchAll(/-/g)) {
    const first = partsOf(text.slice(0, index));
    const last = partsOf(text.slice(index + 1));
    if (!first || !last || (last.head !== '' && last.head !== first.head)) continue;
    const [from, to] = [Number(first.figures), Number(last.figures)];
    if (to < from || to - from >= MOST) continue;
    return Array.from(
      { length: to - from + 1 },
      (_, i) => first.head + String(from + i).padStart(first.figures.length, '0'),
    );
  }
  return undefined;
};

export interface Picked {
  readonly numbers: readonly string[];
  /** Numbers of a range that no piece has. */
  readonly missing: readonly string[];
}

/**
 * `101-120, R-7` → the numbers of pieces, each once, in the order asked for. `R-101-R-120` and `R-101-120` are one.
 * @param has whether there is a piece of that number
 * @throws AfterfireError `bad-input` where nothing is found
 */
export const pickPieces = (text: string, has: (number: string) => boolean): Picked => {
  const numbers = new Set<string>();
  const missing: string[] = [];
  for (const part of text.split(',').map((p) => p.trim())) {
    if (part === '') continue;
    const asked = has(part) ? [part] : rangeOf(part);
    const found = asked?.filter(has) ?? [];
    if (!asked || found.length === 0)
      throw badInput('--pieces', part, 'numbers of pieces in the record, such as 7, 101-120 or R-101-R-120');
    for (const number of found) numbers.add(number);
    missing.push(...asked.filter((number) => !has(number)));
  }
  if (numbers.size === 0) throw badInput('--pieces', text, 'at least one number');
  return { numbers: [...numbers], missing };
};
