/**
 * How fast a wall flows, as the measure of the drag that steadies rigid motion (CreepProblem.steadying). A piece on few
 * supports rolls and tips as fast as its drag lets it; with next to none an explicit step of any use leaps over its
 * rest and back (a pierced vase on two saddles: hops of millimetres, 107 steps; steadied: 21).
 */
interface Flowing {
  readonly density_kg_m3: number;
  readonly gravity_m_s2: number;
  readonly viscosity_Pa_s: number | Float64Array | ((time_s: number) => Float64Array);
}

/**
 * The flow speed the steadying drag is sized by: the wall's own, but it changes slowly, since a jump of contacts passes;
 * and it never falls below a third of what an upright wall of that height settles by (ρgH²/6η), or a drag once too
 * strong would keep the flow, and so itself, as it is.
 */
export const steadied = (last: number, least: number, now: number, most: number): number =>
  Math.max(least, last / most, Math.min(most * last, now));
/** How much it may change from solve to solve: at the first look, and later. */
export const CHANGES = { first: 10, later: 1.2 } as const;
/** Before anything is known it is this many times the least. */
export const FLOW_AT_FIRST = 10;

/** A third of what an upright wall of that height settles by, in its stiffest part, m/s. */
export const leastFlowOf = (p: Flowing, size_m: number): number => {
  const eta = typeof p.viscosity_Pa_s === 'function' ? p.viscosity_Pa_s(0) : p.viscosity_Pa_s;
  const stiffest = typeof eta === 'number' ? eta : eta.reduce((a, b) => Math.max(a, b), 0);
  return (p.density_kg_m3 * p.gravity_m_s2 * size_m ** 2) / (18 * stiffest);
};
