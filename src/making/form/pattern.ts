import type { Alteration } from './alterations/table.ts';
import { alterOf } from './alterations/table.ts';

/** What the alterations ask of the rings of nodes. */
export interface Pattern {
  /** The piece repeats this often round the axis as far as the rings are concerned; 1 for a round one. */
  readonly folds: number;
  /** Where a ring's first node stands, rad: on a ridge, an edge, the deepest cut. */
  readonly turn: (along: number) => number;
}

const greatest = (a: number, b: number): number => (b === 0 ? a : greatest(b, a % b));
const MOST_FOLDS = 48;

/** The pattern of a list of alterations: that all of them share if it is not too fine, else the finest one. */
export const patternOf = (alterations: readonly Alteration[]): Pattern => {
  const folded = alterations
    .map((a) => ({ folds: alterOf(a).folds(a), turn: (along: number) => alterOf(a).turn(a, along) }))
    .filter((a) => a.folds > 1)
    .sort((a, b) => b.folds - a.folds);
  if (folded.length === 0) return { folds: 1, turn: () => 0 };
  const together = folded.reduce((lcm, a) => (lcm * a.folds) / greatest(lcm, a.folds), 1);
  return { folds: together <= MOST_FOLDS ? together : folded[0].folds, turn: folded[0].turn };
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
