import { B, multiply } from '../numerics/block-matrix.ts';
import { conjugateGradients, dot } from '../numerics/conjugate-gradients.ts';
import { factorise, solveFactored } from '../numerics/multifrontal.ts';
import { fromElimination, type ShellSystem, toElimination } from './system.ts';

/**
 * Solving the same system again and again on a slowly changing shape: an older factor serves as
 * preconditioner for conjugate gradients, also when a few unknowns have been held or let go since.
 * A factorisation costs as much as some dozens of solves, so it is made anew only when that is cheaper.
 */
export interface LaggedSolver {
  readonly system: ShellSystem;
  /** Mask the present factor was made with (elimination order), or undefined before the first. */
  heldThen: Uint8Array | undefined;
  /** Rounds the last solve with an older factor took: what the next is likely to take. */
  expected: number;
  /**
   * Power of the load at the last settled answer, what a residual is measured against; 0 before. (While contacts are
   * sought a guess may be falling freely, and its power says nothing.)
   */
  power: number;
  factorisations: number;
  iterations: number;
}

export const makeLaggedSolver = (system: ShellSystem): LaggedSolver => ({
  system,
  heldThen: undefined,
  expected: 0,
  power: 0,
  factorisations: 0,
  iterations: 0,
});

/** Each unknown held or let go since the factor was made costs about one round. */
const changesSince = (l: LaggedSolver, held: Uint8Array): number => {
  const then = l.heldThen as Uint8Array;
  let changes = 0;
  for (let i = 0; i < held.length; i++) if (held[i] !== then[i]) changes++;
  return changes;
};

const refactor = (l: LaggedSolver, held: Uint8Array): boolean => {
  const s = l.system;
  l.factorisations++;
  // Forget slowly how badly an aged factor did, so that it is tried again when things calm down.
  l.expected *= 0.9;
  const ok = factorise(s.factor, s.matrix, held);
  l.heldThen = ok ? held.slice() : undefined;
  return ok;
};

/** Everything one solve works with, in elimination order. */
export interface HeldProblem {
  readonly force: Float64Array;
  /** Unknowns fixed at their value in `x`. */
  readonly held: Uint8Array;
  /** First guess, then solution. */
  readonly x: Float64Array;
  /** Afterwards K·x - force. */
  readonly reaction: Float64Array;
}

/**
 * Solves K·x = f with some unknowns fixed.
 * @param tolerance part of the load's energy norm that may be left
 * @param factorIs `aged` where K has changed since the last solve, `near` where x is known to be almost right
 * @returns false where the matrix is not positive definite
 */
export const solveLagged = (
  l: LaggedSolver,
  q: HeldProblem,
  tolerance: number,
  factorIs: 'aged' | 'fresh' | 'near',
): boolean => {
  const { matrix, factor } = l.system;
  const { force, held, x, reaction } = q;
  const n = force.length;
  const diagonal = (i: number): number => {
    const node = (i / B) | 0;
    return matrix.values[36 * matrix.start[node] + 7 * (i - B * node)];
  };
  const residual = new Float64Array(n);
  const precondition = (r: Float64Array, z: Float64Array) => {
    const then = l.heldThen as Uint8Array;
    z.set(r);
    solveFactored(factor, z);
    for (let i = 0; i < n; i++) {
      if (held[i]) z[i] = 0;
      else if (then[i]) z[i] = r[i] / diagonal(i);
    }
  };
  const apply = (p: Float64Array, ap: Float64Array) => {
    multiply(matrix, p, ap);
    for (let i = 0; i < n; i++) if (held[i]) ap[i] = 0;
  };
  const setResidual = () => {
    multiply(matrix, x, reaction);
    for (let i = 0; i < n; i++) {
      reaction[i] -= force[i];
      residual[i] = held[i] ? 0 : -reaction[i];
    }
  };
  const attempt = (most: number): number => {
    setResidual();
    let power = l.power;
    if (!(power > 0)) {
      const z = new Float64Array(n);
      precondition(force, z);
      power = dot(force, z);
    }
    const rounds = conjugateGradients(apply, precondition, x, residual, Math.sqrt(power), tolerance, most);
    l.iterations += rounds < 0 ? most : rounds;
    setResidual();
    return rounds;
  };
  const worth = l.system.factor.engine.worthSolves;
  const aged = factorIs === 'aged';
  const likely = l.heldThen ? (aged ? l.expected : 0) + changesSince(l, held) : 0;
  if (l.heldThen && (factorIs === 'near' || likely < 0.5 * worth)) {
    const rounds = attempt(Math.ceil(worth));
    if (aged) l.expected = rounds < 0 ? worth : rounds + 2;
    if (rounds >= 0) return true;
  }
  if (!refactor(l, held)) return false;
  // A fresh factor is good to single precision (times the stiffness range); some rounds make up the rest.
  return attempt(40) >= 0 || Number.isFinite(x[0]);
};

/**
 * Solves K·v = f with some unknowns prescribed, once, to round-off.
 * @param force 6 × nodes, mesh order @param held mask, 6 × nodes, mesh order @param prescribed values where held
 * @returns v (6 × nodes, mesh order), or undefined where the held set leaves a mechanism
 */
export const solveHeld = (
  s: ShellSystem,
  force: Float64Array,
  held: Uint8Array,
  prescribed?: Float64Array,
): Float64Array | undefined => {
  const size = B * s.nodes;
  const q = {
    force: new Float64Array(size),
    held: new Uint8Array(size),
    x: new Float64Array(size),
    reaction: new Float64Array(size),
  };
  for (let n = 0; n < s.nodes; n++)
    for (let c = 0; c < B; c++) {
      const i = B * s.rank[n] + c;
      q.held[i] = held[B * n + c];
      if (prescribed && q.held[i]) q.x[i] = prescribed[B * n + c];
    }
  toElimination(s, force, q.force);
  if (!solveLagged(makeLaggedSolver(s), q, ROUND_OFF, 'aged')) return undefined;
  const v = new Float64Array(size);
  fromElimination(s, q.x, v);
  return v;
};
const ROUND_OFF = 1e-13;
