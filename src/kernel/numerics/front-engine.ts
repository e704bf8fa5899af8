import { factorFront } from './front-kernel.ts';
import type { FrontPlan } from './front-plan.ts';
import { solveParts } from './front-solve.ts';

/** What does the dense work of one factorisation, and owns the room its numbers stand in. */
export interface FrontEngine {
  /** The factor, part after part (plan.factorAt), double precision. */
  readonly values: Float64Array;
  /** Border blocks waiting for their parent (plan.stackAt). */
  readonly stack: Float64Array;
  /** Factors the pivots of the front at `lAt` and updates its border at `uAt`; -1, or the first pivot not positive. */
  factorFront(lAt: number, p: number, q: number, uAt: number): number;
  /**
   * Called when all parts are factored. The solves use the factor once more in single precision: they wait on memory,
   * and half the bytes took 0.6 of the time; conjugate gradients around them make up the lost digits.
   */
  finish(): void;
  /** Solves in place, 6 × nodes in elimination order. */
  solve(x: Float64Array): void;
  /** Gives the room back; nothing of this engine may be used afterwards. */
  free(): void;
}

export type MakeEngine = (plan: FrontPlan) => FrontEngine;

/** The engine in plain TypeScript: runs anywhere, and is the oracle for any other. */
export const plainEngine: MakeEngine = (plan) => {
  const values = new Float64Array(plan.factorLength);
  const stack = new Float64Array(plan.stackLength);
  const single = new Float32Array(plan.factorLength);
  let widest = 0;
  for (let s = 0; s < plan.parts; s++) widest = Math.max(widest, plan.pivots[s]);
  const work = new Float64Array(widest);
  return {
    values,
    stack,
    factorFront: (lAt, p, q, uAt) => factorFront(values, lAt, p, q, stack, uAt),
    finish: () => single.set(values),
    solve: (x) => solveParts(plan, single, work, x),
    free: () => {},
  };
};
