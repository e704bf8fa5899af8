import type { BlockMatrix } from './block-matrix.ts';
import type { Column } from './compliance-way.ts';
import type { FrontEngine, MakeEngine } from './front-engine.ts';
import type { FrontPlan } from './front-plan.ts';
import { plainEngine } from './plain-engine.ts';

/** A factorisation of matrices of one pattern: what meets where, and who does the work. */
export interface Factor {
  readonly plan: FrontPlan;
  readonly engine: FrontEngine;
}

/** Room for the numbers of a factorisation; reused from step to step. `matrix` gives the pattern. */
export const makeFactor = (plan: FrontPlan, matrix: BlockMatrix, make: MakeEngine = plainEngine): Factor => ({
  plan,
  engine: make(plan, matrix),
});

/**
 * Numeric phase. `held[6 i + c]` ≠ 0 takes unknown c of elimination position i out (identity row).
 * @returns true, or false where the matrix is not positive definite (a mechanism, or a collapsed triangle)
 */
export const factorise = (f: Factor, m: BlockMatrix, held: Uint8Array): boolean =>
  f.engine.factorise(m, held);

/**
 * Solves in place to single precision of the factor: x (6 × nodes, elimination order) holds the right side and
 * becomes the solution.
 */
export const solveFactored = (f: Factor, x: Float64Array): void => f.engine.solve(x);

/**
 * How some unknowns give under forces on one another, S = Eᵀ·K⁻¹·E.
 * @param columns the columns of E; an entry at a held unknown would count its identity row: leave it out
 * @returns S, m × m row-major
 */
export const complianceOf = (f: Factor, columns: readonly Column[]): Float64Array =>
  f.engine.compliance(columns);
