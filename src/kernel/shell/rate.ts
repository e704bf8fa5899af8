import { B } from '../numerics/block-matrix.ts';
import { dot } from '../numerics/conjugate-gradients.ts';
import { searchCondensed } from './condensed.ts';
import { type ContactSearch, type Grip, searchContacts, standOff } from './contact.ts';
import { nodeNormals, toNodes, triangleAreas } from './geometry.ts';
import { type LaggedSolver, solveLagged } from './lagged.ts';
import { addToDiagonal, assemble, fromElimination, toElimination } from './system.ts';

/** A soft wall at one moment. All arrays are owned by the caller and changed in place by the stepper. */
export interface SoftShape {
  /** 3 × nodes, m. */
  readonly positions: Float64Array;
  /** Wall of each triangle, m. */
  readonly thickness_m: Float64Array;
  /** Weight-giving mass of each triangle, kg; it never changes. */
  readonly mass_kg: Float64Array;
}

/** What acts on the wall at one moment. */
export interface RateLaw {
  /** Shear viscosity of each triangle or of all, Pa·s. */
  readonly viscosity_Pa_s: number | Float64Array;
  /** Viscous Poisson ratio: ½ for a dense body, less while it is porous. */
  readonly poisson: number;
  /** Downward pull, m/s². */
  readonly gravity_m_s2: number;
  /** Pressure on the inside, pushing along the outward normals, Pa. */
  readonly pressure_Pa: number;
  readonly shelf: Grip | 'none';
  /** Unknowns held at zero speed, 6 × nodes (symmetry, clamps); empty array for none. */
  readonly held: Uint8Array;
  /** Part of the load's energy norm a solution may leave. */
  readonly residual: number;
}

export interface RateResult {
  /** 6 × nodes: velocity and rotation rate. */
  readonly rates: Float64Array;
  /** Upward force of the shelf on each node, N. */
  readonly shelfForce_N: Float64Array;
  /** Whether what rests on the shelf is not what was guessed. */
  readonly contactsChanged: boolean;
  readonly ok: boolean;
}

/** Rounds of the contact search; it ends by itself, this only guards. */
const MOST_ROUNDS = 60;
/** Changes in one round from which condensing is cheaper than further rounds; and how often in one solve. */
const WORTH_CONDENSING = 4;
const MOST_SEARCHES = 2;
/** Energy-norm residual while the contacts are still sought, where the final one is finer. */
const ROUGH = 1e-4;
/** Drag against sliding and rolling freely, as a fraction of the load at the present speed. */
const DRAG = 1e-5;
/** Before any speed is known the drag is this fraction of the stiffness on the diagonal. */
const FIRST_DRAG = 1e-11;
/** How often the drag may be made a hundredfold where the system cannot be factored. */
const MORE_DRAG = 3;

/**
 * Speeds of a soft wall under its weight (Stokes-Rayleigh: a linear shell with modulus 3η, ratio ν), resting
 * on the shelf where it must. `resting` (one a node) is first guess and answer.
 * @param dt step the speeds are meant for: a node may not fall through its gap within it (s; Infinity: none)
 * @param lastSpeed a typical speed (m/s) that sizes the drag; 0 where unknown
 * @param restless whether contacts changed in the last solve
 */
export const rateOf = (
  solver: LaggedSolver,
  shape: SoftShape,
  law: RateLaw,
  resting: Uint8Array,
  bound_m_s: Float64Array,
  guess: Float64Array,
  lastSpeed: number,
  restless = false,
): RateResult => {
  const s = solver.system;
  const nodes = s.nodes;
  const size = B * nodes;
  const { viscosity_Pa_s: eta } = law;
  const modulus = typeof eta === 'number' ? 3 * eta : eta.map((e) => 3 * e);
  assemble(s, shape.positions, shape.thickness_m, {
    modulus: scaledModulus(modulus, law.poisson),
    poisson: law.poisson,
  });
  const force = new Float64Array(size);
  const drag = new Float64Array(nodes);
  const g = law.gravity_m_s2;
  let mass = 0;
  for (let t = 0; t < shape.mass_kg.length; t++) {
    const m = shape.mass_kg[t] / 3;
    mass += 3 * m;
    for (let c = 0; c < 3; c++) {
      const n = s.triangles[3 * t + c];
      force[B * n + 2] -= m * g;
      drag[n] += m;
    }
  }
  if (law.pressure_Pa !== 0) addPressure(force, shape.positions, s.triangles, law.pressure_Pa);
  let load = 0;
  for (const f of force) load += Math.abs(f);
  for (let n = 0; n < nodes; n++) {
    if (lastSpeed > 0) drag[n] *= (DRAG * load) / (mass * lastSpeed);
    else {
      const k = 36 * s.matrix.start[s.rank[n]];
      const v = s.matrix.values;
      drag[n] = FIRST_DRAG * (v[k] + v[k + 7] + v[k + 14]);
    }
  }
  addToDiagonal(s, drag);

  const rhs = new Float64Array(size);
  const x = new Float64Array(size);
  const reaction = new Float64Array(size);
  const held = new Uint8Array(size);
  const speed = new Float64Array(nodes);
  const push = new Float64Array(nodes);
  const rates = new Float64Array(size);
  toElimination(s, force, rhs);
  toElimination(s, guess, x);
  const contact = law.shelf !== 'none';
  let settled = false;
  let condensed = false;
  const guessed = resting.slice();
  const search: ContactSearch = {
    resting,
    bound: bound_m_s,
    admitted: bound_m_s.map((b) => Math.max(0, b)),
    released: new Uint8Array(nodes),
  };
  let searches = 0;
  /** Finds what rests by condensing; false leaves the search to the rounds. */
  const condense = (): boolean => {
    const bound = new Float64Array(nodes);
    const base = new Uint8Array(size);
    const standing: number[] = [];
    for (let n = 0; n < nodes; n++) {
      const i = s.rank[n];
      bound[i] = bound_m_s[n];
      if (guessed[n]) standing.push(i);
      for (let c = 0; c < B; c++) base[B * i + c] = law.held.length > 0 ? law.held[B * n + c] : 0;
      // A gripping shelf holds sideways what rested at the start of the step.
      if (law.shelf === 'grips' && guessed[n]) base[B * i] = base[B * i + 1] = 1;
    }
    const found = searchCondensed(solver, {
      force: rhs,
      held: base,
      x,
      resting: standing,
      bound,
      residual: law.residual,
    });
    if (!found) return false;
    resting.fill(0);
    for (const i of found) resting[s.order[i]] = 1;
    search.released.fill(0);
    search.admitted.set(bound_m_s.map((b) => Math.max(0, b)));
    return true;
  };
  // Where contacts have just been changing they are likely to change again.
  if (contact && restless) condensed = searches++ < MOST_SEARCHES && condense();
  const pull = (1e-5 * load) / Math.sqrt(nodes);
  for (let round = 1; ; round++) {
    for (let n = 0; n < nodes; n++) {
      const i = B * s.rank[n];
      for (let c = 0; c < B; c++) {
        const fixed = law.held.length > 0 && law.held[B * n + c] !== 0;
        held[i + c] = fixed ? 1 : 0;
        if (fixed) x[i + c] = 0;
      }
      if (contact && resting[n]) {
        held[i + 2] = 1;
        x[i + 2] = bound_m_s[n];
        if (law.shelf === 'grips') {
          held[i] = held[i + 1] = 1;
          x[i] = x[i + 1] = 0;
        }
      }
    }
    const tolerance = settled || !contact ? law.residual : Math.max(law.residual, ROUGH);
    const factorIs = condensed ? 'near' : round === 1 ? 'aged' : 'fresh';
    let ok = solveLagged(solver, { force: rhs, held, x, reaction }, tolerance, factorIs);
    // A piece on few points is free to slide and roll but for the drag; where that drowns in round-off, add to it.
    for (let more = 0; !ok && more < MORE_DRAG; more++) {
      for (let n = 0; n < nodes; n++) drag[n] *= 99;
      addToDiagonal(s, drag);
      for (let n = 0; n < nodes; n++) drag[n] *= 100 / 99;
      ok = solveLagged(solver, { force: rhs, held, x, reaction }, tolerance, 'aged');
    }
    let typical = 0;
    for (let n = 0; n < nodes; n++) {
      const i = B * s.rank[n];
      speed[n] = x[i + 2];
      push[n] = reaction[i + 2];
      typical = Math.max(typical, Math.abs(x[i]), Math.abs(x[i + 1]), Math.abs(x[i + 2]));
    }
    const changed = contact && ok ? searchContacts(search, speed, push, pull, 1e-5 * typical) : 0;
    const done = !ok || round >= MOST_ROUNDS || (changed === 0 && (settled || !contact));
    settled = changed === 0;
    if (changed > 0) condensed = changed >= WORTH_CONDENSING && searches++ < MOST_SEARCHES && condense();
    if (done) {
      solver.power = Math.abs(dot(rhs, x));
      fromElimination(s, x, rates);
      if (law.shelf === 'slides' && law.held.length === 0) stopDrift(s.triangles, shape, rates);
      for (let n = 0; n < nodes; n++) if (!resting[n]) push[n] = 0;
      return { rates, shelfForce_N: push, contactsChanged: guessed.some((r, n) => r !== resting[n]), ok };
    }
  }
};

/**
 * Takes out level sliding and turning about the vertical: on a frictionless shelf nothing pushes a piece sideways, so
 * what there is of it is left by the solver. (Weighted by mass, as the drag is, this is what the drag would reach.)
 */
const stopDrift = (triangles: Uint32Array, shape: SoftShape, rates: Float64Array): void => {
  const p = shape.positions;
  const nodes = p.length / 3;
  const mass = new Float64Array(nodes);
  for (let t = 0; t < triangles.length; t++) mass[triangles[t]] += shape.mass_kg[(t / 3) | 0] / 3;
  let total = 0;
  const mean = [0, 0, 0, 0];
  for (let n = 0; n < nodes; n++) {
    total += mass[n];
    mean[0] += mass[n] * p[3 * n];
    mean[1] += mass[n] * p[3 * n + 1];
    mean[2] += mass[n] * rates[B * n];
    mean[3] += mass[n] * rates[B * n + 1];
  }
  const [cx, cy, vx, vy] = mean.map((m) => m / total);
  let spin = 0;
  let inertia = 0;
  for (let n = 0; n < nodes; n++) {
    const x = p[3 * n] - cx;
    const y = p[3 * n + 1] - cy;
    spin += mass[n] * (x * (rates[B * n + 1] - vy) - y * (rates[B * n] - vx));
    inertia += mass[n] * (x * x + y * y);
  }
  const w = spin / inertia;
  for (let n = 0; n < nodes; n++) {
    rates[B * n] -= vx - w * (p[3 * n + 1] - cy);
    rates[B * n + 1] -= vy + w * (p[3 * n] - cx);
    rates[B * n + 5] -= w;
  }
};

/** Adds a third of pressure × area along the normal to each corner of each triangle. */
const addPressure = (
  force: Float64Array,
  p: Float64Array,
  triangles: Uint32Array,
  pressure_Pa: number,
): void => {
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const k = pressure_Pa / 6;
    for (const n of [2 * a, 2 * b, 2 * c]) {
      force[n] += k * (u[1] * v[2] - u[2] * v[1]);
      force[n + 1] += k * (u[2] * v[0] - u[0] * v[2]);
      force[n + 2] += k * (u[0] * v[1] - u[1] * v[0]);
    }
  }
};

/**
 * Uniaxial stiffness of a creeping wall is 3η only when it is incompressible; with ratio ν < ½ the modulus
 * that keeps the shear viscosity η is 2η(1 + ν).
 */
const scaledModulus = (modulus: number | Float64Array, poisson: number): number | Float64Array => {
  const f = (2 * (1 + poisson)) / 3;
  if (f === 1) return modulus;
  return typeof modulus === 'number' ? modulus * f : modulus.map((m) => m * f);
};

/** Stand-off of every node for a shape, with the wall averaged to the nodes. */
export const standOffOf = (shape: SoftShape, triangles: Uint32Array): Float64Array => {
  const nodes = shape.positions.length / 3;
  const areas = new Float64Array(shape.thickness_m.length);
  triangleAreas(shape.positions, triangles, areas);
  const normals = new Float64Array(3 * nodes);
  nodeNormals(shape.positions, triangles, normals);
  const off = new Float64Array(nodes);
  standOff(normals, toNodes(shape.thickness_m, areas, triangles, nodes), off);
  return off;
};
