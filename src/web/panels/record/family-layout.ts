import type { FormTold } from '../../state/record/answers.ts';

/** Where each form of a family stands in the picture: the years go to the right, each branch has a row of its own. */

export interface Placed {
  readonly form: FormTold;
  readonly x: number;
  readonly row: number;
  /** Where its parent stands, if that is in the picture. */
  readonly from?: { readonly x: number; readonly row: number } | undefined;
}

export interface FamilyPicture {
  readonly placed: readonly Placed[];
  readonly rows: number;
  /** First days of the months or years to mark, and where. */
  readonly marks: readonly { readonly x: number; readonly text: string }[];
}

/** When it came up: its first piece, else when it was drawn. */
export const cameUp = ({ first_utc, made_utc }: FormTold): string => first_utc ?? made_utc;

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** No two marks nearer than this, or their words would touch. */
const MARK_ROOM = 84;

const marksBetween = (from_ms: number, to_ms: number, width: number, xOf: (ms: number) => number) => {
  const start = new Date(from_ms);
  const months = (to_ms - from_ms) / (30.44 * 86_400_000);
  const least = (months * MARK_ROOM) / width;
  const step = [1, 3, 6, 12, 24, 60, 120].find((n) => n >= least) ?? 240;
  const marks: { x: number; text: string }[] = [];
  for (let month = Math.ceil((start.getUTCMonth() + 1) / step) * step; marks.length < 60; month += step) {
    const ms = Date.UTC(start.getUTCFullYear(), month);
    if (ms > to_ms) break;
    const at = new Date(ms);
    marks.push({ x: xOf(ms), text: `${MONTHS[at.getUTCMonth()]} ${at.getUTCFullYear()}` });
  }
  return marks;
};

/**
 * Lays out a family. Forms in any order.
 * @param width of the whole, and `card` that of one form, in the same unit
 */
export const layOutFamily = (forms: readonly FormTold[], width: number, card: number): FamilyPicture => {
  if (forms.length === 0) return { placed: [], rows: 0, marks: [] };
  const times = forms.map((form) => Date.parse(cameUp(form)));
  const [from, to] = [Math.min(...times), Math.max(...times)];
  const room = Math.max(1, width - card);
  const xOf = (ms: number): number => (to === from ? 0 : ((ms - from) / (to - from)) * room);
  const byForm = new Map<number, Placed>();
  /** How far to the right each row is taken. */
  const ends: number[] = [];
  const freeRow = (x: number, wanted: number | undefined): number => {
    if (wanted !== undefined && (ends[wanted] ?? -1) < x) return wanted;
    const free = ends.findIndex((end) => end < x);
    return free >= 0 && wanted === undefined ? free : ends.findLastIndex((end) => end >= 0) + 1;
  };
  for (const form of forms.toSorted((a, b) => (cameUp(a) < cameUp(b) ? -1 : 1))) {
    const parent = form.parent === null ? undefined : byForm.get(form.parent);
    const x = xOf(Date.parse(cameUp(form)));
    const row = freeRow(x, parent?.row);
    ends[row] = x + card * 1.05;
    byForm.set(form.form, {
      form,
      x,
      row,
    });
  }
  // Once all stand: a parent whose first piece was made later stands further to the right.
  const placed = [...byForm.values()].map((one): Placed => {
    const parent = one.form.parent === null ? undefined : byForm.get(one.form.parent);
    return parent ? { ...one, from: { x: parent.x, row: parent.row } } : one;
  });
  return { placed, rows: ends.length, marks: marksBetween(from, to, room, xOf) };
};
