import type { BlockMatrix } from './block-matrix.ts';
import type { Column } from './compliance-way.ts';
import type { CrewPlan } from './crew-plan.ts';
import type { Forge } from './forge.ts';
import type { FrontPlan } from './front-plan.ts';

/** Who does the numbers of a factorisation, and owns the room they stand in. */
export interface FrontEngine {
  /** @param held unknowns taken out (identity rows) @returns false where the matrix is not positive definite */
  factorise(matrix: BlockMatrix, held: Uint8Array): boolean;
  /** Solves in place to single precision, 6 × nodes in elimination order. */
  solve(x: Float64Array): void;
  /** S = Eᵀ·K⁻¹·E for the columns of E, in double precision, row-major. */
  compliance(columns: readonly Column[]): Float64Array;
  /** How many solves take as long as one factorisation. */
  readonly worthSolves: number;
  /** Where the engine keeps the matrix's numbers itself: they are then written there. */
  readonly inside?: EngineInside;
  /** Gives the room back; nothing of this engine may be used afterwards. */
  free(): void;
}

/** A compiled engine's inside, for other compiled work on the same matrix. */
export interface EngineInside {
  readonly forge: Forge;
  readonly subject: number;
  readonly crew: CrewPlan;
  /** The matrix's numbers, as BlockMatrix.values. */
  readonly values: Float64Array;
  /** Room that goes with the engine. */
  readonly room: (bytes: number) => number;
}

/** Makes an engine for matrices of one pattern; the matrix's values do not matter yet. */
export type MakeEngine = (plan: FrontPlan, matrix: BlockMatrix) => FrontEngine;
