import type { Alteration } from './alterations/table.ts';
import { alterOf } from './alterations/table.ts';
import type { Section } from './section.ts';

/** What the alterations ask of the rings of nodes. */
export interface Pattern {
  /** The piece repeats this often round the axis as far as the rings are concerned; 1 for a round one. */
  readonly folds: number;
  /** Where a ring's first node stands, rad: on a ridge, an edge, the deepest cut. */
  readonly turn: (along: number) => number;
}

const greatest = (a: number, b: number): number => (b === 0 ? a : greatest(b, a % b));

/** A wave drawn by its ridges and hollows alone may make triangles this many times longer than wide, not more. */
const MOST_OBLONG = 6;

/** Whether so many triangles can draw a wave of so many folds: two nodes a fold on every row, rows not too far apart. */
const affordable = (folds: number, section: Section, triangles: number): boolean => {
  const { length: s, radius } = section;
  let way = 0;
  for (let i = 1; i < s.length; i++)
    if (s[i] > section.wallFrom) way += (2 * (s[i] - s[i - 1])) / (radius[i] + radius[i - 1]);
  return (4 * folds * folds * way) / (MOST_OBLONG * Math.PI) < triangles;
};

export interface Drawable {
  readonly pattern: Pattern;
  /** The alterations a mesh of this fineness can show. */
  readonly shown: readonly Alteration[];
  /** Places in the list of those too fine for it. */
  readonly tooFine: readonly number[];
}

/**
 * Which alterations so many triangles can show, and the pattern of rings for them: the one all share if it is not
 * too fine, else that of the finest. A wave finer than the mesh would come out as lumps, so it is left out whole.
 */
export const drawable = (
  alterations: readonly Alteration[],
  section: Section,
  triangles: number,
): Drawable => {
  const tooFine: number[] = [];
  const folded: Pattern[] = [];
  const shown = alterations.filter((a, i) => {
    const folds = alterOf(a).folds(a);
    if (folds === 1) return true;
    if (!affordable(folds, section, triangles)) {
      tooFine.push(i);
      return false;
    }
    folded.push({ folds, turn: (along) => alterOf(a).turn(a, along) });
    return true;
  });
  if (folded.length === 0) return { pattern: { folds: 1, turn: () => 0 }, shown, tooFine };
  const finest = folded.reduce((best, a) => (a.folds > best.folds ? a : best));
  const together = folded.reduce((lcm, a) => (lcm * a.folds) / greatest(lcm, a.folds), 1);
  const shared = affordable(together, section, triangles / 5);
  return { pattern: { folds: shared ? together : finest.folds, turn: finest.turn }, shown, tooFine };
};

/** Counts a ring may have: with a node on every ridge and hollow where there is room, else a share of that. */
export const ringCount = (wanted: number, folds: number): number => {
  const base = folds === 1 ? 2 : folds;
  const near = (step: number): number => Math.max(step, step * Math.round(wanted / step));
  const choices = [near(2 * base)];
  // An even count can be its own mirror image.
  if (wanted >= 4.5 * base && base % 2 === 0) choices.push(near(base));
  for (let part = base; part >= 4; part--) if ((2 * base) % part === 0) choices.push(part);
  const off = (n: number): number => Math.abs(Math.log(n / wanted));
  return choices.reduce((best, n) => (off(n) < off(best) ? n : best));
};
