import { B, type BlockMatrix, multiply } from '../numerics/block-matrix.ts';
import type { Column } from '../numerics/compliance-way.ts';
import { conjugateGradients, dot } from '../numerics/conjugate-gradients.ts';
import { complianceOf, factorise, solveFactored } from '../numerics/multifrontal.ts';
import { leastPressed, type PressedAnswer } from '../numerics/pressed.ts';
import { LINK_GIVE, MOST_AT_ONCE, MOST_CONDENSED, PASSES, SPRING } from './contact-tolerances.ts';
import type { LaggedSolver } from './lagged.ts';
import { addSpring, along, ownStiffness } from './spring.ts';

/**
 * The contact search in one go: the wall is condensed onto the points that may touch, and the small problem of
 * least power under "no nearer than" is solved exactly. One factorisation whatever the number of points that
 * change; trying supports one set after another took fifteen rounds a step for a tube sinking on its side.
 *
 * The wall alone may be free to fall, so the nodes last at rest are put on springs k while condensing. With
 * forces r = λ + k·v on the touching points, v = v₀ + S·r with λ ≥ 0, v ≥ bound.
 */
export interface CondensedProblem {
  /** All in elimination order, 6 × nodes. */
  readonly force: Float64Array;
  /** Unknowns held whatever the contact does. */
  readonly held: Uint8Array;
  /** First guess, held unknowns at their values; then answer. */
  readonly x: Float64Array;
  /** Elimination position of each node that rests in the guess. */
  readonly resting: readonly number[];
  /** Whether what is held keeps the wall from falling, so that no node need rest in the guess. */
  readonly heldUp: boolean;
  /** Least speed along the normal of every elimination position, m/s. */
  readonly bound: Float64Array;
  /** Contacts of several nodes, their least speeds, and which of them push in the guess. */
  readonly links: readonly Column[];
  readonly linkBound: Float64Array;
  readonly pushing: readonly number[];
  /** Whether a link's nodes are neighbours, so that it can stand on a spring: 1 a link. */
  readonly standing: Uint8Array;
  /** Part of the load's energy norm a solution may leave. */
  readonly residual: number;
}

export interface CondensedAnswer {
  /** Elimination positions that rest, with x solved for them. */
  readonly resting: readonly number[];
  /** Push of each link, N; one a link. */
  readonly push: Float64Array;
}

/** A point that may touch: a node's own unknown, or a link. */
interface Point extends Column {
  /** With the entries at held unknowns, which move the point but cannot be moved by it. */
  readonly whole: Column;
  readonly low: number;
  /** Stiffness it stands on while condensing. */
  spring: number;
  /** Elimination position, or -1 - its number for a link. */
  readonly who: number;
}

const nodePoint = (q: CondensedProblem, i: number, spring: number): Point => ({
  at: [B * i + 2],
  value: [1],
  whole: { at: [B * i + 2], value: [1] },
  low: q.bound[i],
  spring,
  who: i,
});
const linkPoint = (q: CondensedProblem, j: number): Point => ({
  ...freeOf(q.links[j], q.held),
  whole: q.links[j],
  low: q.linkBound[j],
  spring: 0,
  who: -1 - j,
});

const freeOf = (c: Column, held: Uint8Array): Column => {
  const keep = c.at.map((u, k) => (held[u] ? -1 : k)).filter((k) => k >= 0);
  return keep.length === c.at.length
    ? c
    : { at: keep.map((k) => c.at[k]), value: keep.map((k) => c.value[k]) };
};

/** Gives the first `resting` points one stiffness, the mean of their own, and links that may stand theirs. */
const setSprings = (m: BlockMatrix, points: readonly Point[], resting: number): void => {
  let mean = 0;
  for (let i = 0; i < resting; i++) mean += (SPRING * ownStiffness(m, points[i])) / resting;
  points.forEach((p, i) => {
    if (i < resting) p.spring = mean;
    else if (p.spring > 0) p.spring = SPRING * ownStiffness(m, p);
  });
};

/** @returns undefined where this way is closed (too many points, or a matrix that is not positive definite) */
export const searchCondensed = (l: LaggedSolver, q: CondensedProblem): CondensedAnswer | undefined => {
  const { matrix, factor } = l.system;
  const { force, held, x } = q;
  const first = q.resting.length + q.pushing.length;
  if ((first === 0 && !q.heldUp) || first > MOST_CONDENSED) return undefined;
  let points = [
    ...q.resting.map((i) => nodePoint(q, i, 0)),
    ...q.pushing.map((j) => ({ ...linkPoint(q, j), spring: q.standing[j] })).filter((p) => p.at.length > 0),
  ];
  setSprings(matrix, points, q.resting.length);
  const springs = points.filter((p) => p.spring > 0);
  for (const p of springs) addSpring(matrix, p, p.spring);
  const takeSpringsOut = () => {
    for (const p of springs) addSpring(matrix, p, -p.spring);
  };
  l.factorisations++;
  const ok = factorise(factor, matrix, held);
  if (!ok) {
    l.heldThen = undefined;
    takeSpringsOut();
    return undefined;
  }
  l.heldThen = held.slice();

  const solve = (right: Float64Array, out: Float64Array) => solveFresh(l, held, right, out, 0.1 * q.residual);
  const known = new Set(points.map((p) => p.who));
  const others = (): number[] => landing(x, q, known);
  const add = (who: number): void => {
    known.add(who);
    points.push(who >= 0 ? nodePoint(q, who, 0) : linkPoint(q, -1 - who));
  };
  // What would land at the speeds guessed is likely to; on springs alone quite other points might.
  for (const who of others()) add(who);
  const springOnly = x.slice();
  solve(force, springOnly);
  x.set(springOnly);
  const dropped = new Set<number>();
  let answer: CondensedAnswer | undefined;
  for (let pass = 0; pass < PASSES; pass++) {
    if (pass > 0) for (const who of others()) add(who);
    if (points.length > MOST_CONDENSED) break;
    const found = condense(points, complianceOf(factor, points), springOnly);
    if (!found) break;
    const right = force.slice();
    points.forEach((p, m) => {
      p.at.forEach((u, e) => {
        right[u] += p.value[e] * found.force[m];
      });
    });
    solve(right, x);
    const push = new Float64Array(q.links.length);
    points.forEach((p, m) => {
      if (p.who < 0 && found.atBound[m]) push[-1 - p.who] = found.force[m];
    });
    answer = { resting: points.filter((p, m) => p.who >= 0 && found.atBound[m]).map((p) => p.who), push };
    if (others().length === 0) break;
    // What stays clear costs columns and gives nothing; what comes back stays.
    points = points.filter((p, m) => {
      const keep = p.spring > 0 || found.atBound[m] || dropped.has(p.who);
      if (!keep) {
        dropped.add(p.who);
        known.delete(p.who);
      }
      return keep;
    });
  }
  takeSpringsOut();
  return answer;
};

/** Solves with the factor just made; conjugate gradients make up the digits its single precision lost. */
const solveFresh = (
  l: LaggedSolver,
  held: Uint8Array,
  right: Float64Array,
  out: Float64Array,
  residual: number,
): void => {
  const { matrix, factor } = l.system;
  const n = right.length;
  const precondition = (r: Float64Array, z: Float64Array) => {
    z.set(r);
    solveFactored(factor, z);
    for (let i = 0; i < n; i++) if (held[i]) z[i] = 0;
  };
  const apply = (p: Float64Array, ap: Float64Array) => {
    multiply(matrix, p, ap);
    for (let i = 0; i < n; i++) if (held[i]) ap[i] = 0;
  };
  const r = new Float64Array(n);
  multiply(matrix, out, r);
  for (let i = 0; i < n; i++) r[i] = held[i] ? 0 : right[i] - r[i];
  const z = new Float64Array(n);
  precondition(right, z);
  l.iterations += conjugateGradients(apply, precondition, out, r, Math.sqrt(dot(right, z)), residual, 40);
};

/** Points that would pass their bound, those that get there first; the rest wait for what these hold up. */
const landing = (x: Float64Array, q: CondensedProblem, known: ReadonlySet<number>): number[] => {
  const through: { who: number; when: number }[] = [];
  const look = (who: number, speed: number, low: number) => {
    if (speed < low && !known.has(who)) through.push({ who, when: low >= 0 ? 0 : low / speed });
  };
  for (let i = 0; i < q.bound.length; i++) if (!q.held[B * i + 2]) look(i, x[B * i + 2], q.bound[i]);
  q.links.forEach((c, j) => {
    if (c.at.some((u) => !q.held[u]))
      look(-1 - j, along(c, x), q.linkBound[j] - LINK_SLACK * Math.abs(q.linkBound[j]));
  });
  return through
    .sort((a, b) => a.when - b.when)
    .slice(0, MOST_AT_ONCE)
    .map((t) => t.who);
};
/** What a link gives (LINK_GIVE) must not count as passing. */
const LINK_SLACK = 1e-3;

/** The small problem: which of the points are at their bounds, and the forces on all of them. */
const condense = (
  points: readonly Point[],
  compliance: Float64Array,
  alone: Float64Array,
): PressedAnswer | undefined => {
  const m = points.length;
  for (let i = 0; i < m; i++) if (points[i].who < 0) compliance[i * m + i] *= 1 + LINK_GIVE;
  return leastPressed({
    compliance,
    alone: Float64Array.from(points, (p) => along(p.whole, alone)),
    low: Float64Array.from(points, (p) => p.low),
    spring: Float64Array.from(points, (p) => p.spring),
    atBound: Uint8Array.from(points, (p) => (p.spring > 0 || p.who < 0 ? 1 : 0)),
  });
};
