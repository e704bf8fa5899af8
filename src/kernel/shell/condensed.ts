import { B, multiply } from '../numerics/block-matrix.ts';
import { inverse, leastAbove } from '../numerics/bounded.ts';
import { complianceOf } from '../numerics/compliance.ts';
import { conjugateGradients, dot } from '../numerics/conjugate-gradients.ts';
import { factorise, solveFactored } from '../numerics/multifrontal.ts';
import type { LaggedSolver } from './lagged.ts';

/**
 * The contact search in one go: the wall is condensed onto the nodes that may touch, and the small problem of
 * least power under "no lower than" is solved exactly. One factorisation whatever the number of nodes that
 * change; trying supports one set after another took fifteen rounds a step for a tube sinking on its side.
 *
 * The wall alone may be free to fall, so the nodes last at rest are put on springs k while condensing. With
 * forces r = λ + k·v on the touching nodes, v = v₀ + S·r, hence λ = (S⁻¹ - k)·v - S⁻¹·v₀ with λ ≥ 0, v ≥ bound.
 */
export interface CondensedProblem {
  /** All in elimination order, 6 × nodes. */
  readonly force: Float64Array;
  /** Unknowns held whatever the contact does. */
  readonly held: Uint8Array;
  /** First guess, then answer. */
  readonly x: Float64Array;
  /** Elimination position of each node that rests in the guess. */
  readonly resting: readonly number[];
  /** Least vertical speed of every elimination position, m/s. */
  readonly bound: Float64Array;
  /** Part of the load's energy norm a solution may leave. */
  readonly residual: number;
}

/** Springs against the mean stiffness of the nodes they stand under: soft enough to keep digits, stiff enough to stand. */
const SPRING = 1;
/** Beyond this many touching nodes the small problem is no longer small. */
export const MOST_CONDENSED = 450;
const PASSES = 6;

/**
 * @returns elimination positions that rest, with x solved for them, or undefined where this way is closed (too many
 *   nodes, or a matrix that is not positive definite)
 */
export const searchCondensed = (l: LaggedSolver, q: CondensedProblem): number[] | undefined => {
  const { matrix, factor } = l.system;
  const { force, held, x, bound } = q;
  const n = force.length;
  if (q.resting.length === 0 || q.resting.length > MOST_CONDENSED) return undefined;
  const diagonal = (i: number): number => 36 * matrix.start[i] + 14;
  let stiffness = 0;
  for (const i of q.resting) stiffness += matrix.values[diagonal(i)] / q.resting.length;
  const k = SPRING * stiffness;
  const sprung = new Uint8Array(n / B);
  for (const i of q.resting) sprung[i] = 1;
  for (const i of q.resting) matrix.values[diagonal(i)] += k;
  const takeSpringsOut = () => {
    for (const i of q.resting) matrix.values[diagonal(i)] -= k;
  };
  l.factorisations++;
  const ok = factorise(factor, matrix, held);
  if (!ok) {
    l.heldThen = undefined;
    takeSpringsOut();
    return undefined;
  }
  l.heldThen = held.slice();

  const precondition = (r: Float64Array, z: Float64Array) => {
    z.set(r);
    solveFactored(factor, z);
    for (let i = 0; i < n; i++) if (held[i]) z[i] = 0;
  };
  const apply = (p: Float64Array, ap: Float64Array) => {
    multiply(matrix, p, ap);
    for (let i = 0; i < n; i++) if (held[i]) ap[i] = 0;
  };
  const solve = (right: Float64Array, out: Float64Array) => {
    const r = new Float64Array(n);
    multiply(matrix, out, r);
    for (let i = 0; i < n; i++) r[i] = held[i] ? 0 : right[i] - r[i];
    const z = new Float64Array(n);
    precondition(right, z);
    l.iterations += conjugateGradients(
      apply,
      precondition,
      out,
      r,
      Math.sqrt(dot(right, z)),
      0.1 * q.residual,
      40,
    );
  };

  const springOnly = x.slice();
  for (let i = 0; i < n; i++) if (held[i]) springOnly[i] = 0;
  solve(force, springOnly);
  x.set(springOnly);
  const touching = new Set(q.resting);
  let answer: number[] | undefined;
  for (let pass = 0; pass < PASSES; pass++) {
    for (const i of landing(x, bound, held, touching)) touching.add(i);
    if (touching.size > MOST_CONDENSED) break;
    const nodes = [...touching];
    const found = condense(
      nodes,
      complianceOf(
        factor,
        nodes.map((i) => B * i + 2),
      ),
      springOnly,
      sprung,
      k,
      bound,
    );
    if (!found) break;
    const right = force.slice();
    nodes.forEach((i, m) => {
      right[B * i + 2] += found.forces[m];
    });
    solve(right, x);
    answer = nodes.filter((_, m) => found.atBound[m]);
    if (landing(x, bound, held, touching).length === 0) break;
  }
  takeSpringsOut();
  return answer;
};

/** Nodes that would pass their bound, those that get there first; the rest wait for what these hold up. */
const landing = (
  x: Float64Array,
  bound: Float64Array,
  held: Uint8Array,
  known: ReadonlySet<number>,
): number[] => {
  const when = (i: number): number => (bound[i] >= 0 ? 0 : bound[i] / x[B * i + 2]);
  const through: number[] = [];
  for (let i = 0; i < bound.length; i++)
    if (x[B * i + 2] < bound[i] && !held[B * i + 2] && !known.has(i)) through.push(i);
  return through.sort((a, b) => when(a) - when(b)).slice(0, MOST_AT_ONCE);
};
const MOST_AT_ONCE = 60;

/** The small problem: which of the touching nodes rest, and the forces r = λ + k·v on all of them. */
const condense = (
  nodes: readonly number[],
  compliance: Float64Array,
  alone: Float64Array,
  sprung: Uint8Array,
  k: number,
  bound: Float64Array,
): { readonly atBound: Uint8Array; readonly forces: Float64Array } | undefined => {
  const m = nodes.length;
  const stiffness = inverse(compliance, m);
  if (!stiffness) return undefined;
  const right = new Float64Array(m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) right[i] += stiffness[i * m + j] * alone[B * nodes[j] + 2];
  const full = stiffness.slice();
  for (let i = 0; i < m; i++) if (sprung[nodes[i]]) full[i * m + i] -= k;
  // Round-off must not make a free fall downhill both ways.
  for (let i = 0; i < m; i++) full[i * m + i] += 1e-9 * k;
  const low = Float64Array.from(nodes, (i) => bound[i]);
  const guess = Uint8Array.from(nodes, (i) => (sprung[i] ? 1 : 0));
  const found = leastAbove(full, right, low, guess);
  if (!found) return undefined;
  // r = S⁻¹(v - v₀)
  const forces = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    let s = -right[i];
    for (let j = 0; j < m; j++) s += stiffness[i * m + j] * found.x[j];
    forces[i] = s;
  }
  return { atBound: found.atBound, forces };
};
