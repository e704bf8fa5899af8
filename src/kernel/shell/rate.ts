import { B } from '../numerics/block-matrix.ts';
import { dot } from '../numerics/conjugate-gradients.ts';
import type { Contacts } from './contact.ts';
import { stopDrift } from './drift.ts';
import { turnBack, turnHeld, turnMatrix, turnVectors } from './frames.ts';
import { type Rubbing, rub } from './friction.ts';
import type { LaggedSolver } from './lagged.ts';
import { columnOf } from './link.ts';
import { loadOn } from './load.ts';
import { type Powers, powersOf } from './power.ts';
import { finishLinks, grips, settle, type Work } from './settle.ts';
import type { RateLaw, SoftShape } from './soft-shape.ts';
import { addToDiagonal, assemble, fromElimination, type ShellSystem, toElimination } from './system.ts';

export interface RateResult {
  /** 6 × nodes: velocity and rotation rate. */
  readonly rates: Float64Array;
  /** Push of its support on each node along the support's normal, N. */
  readonly push_N: Float64Array;
  /** All that shelf, obstacles, friction and the wall itself do to each node, 3 × nodes, global axes, N. */
  readonly contactForce_N: Float64Array;
  readonly powers: Powers;
  /** Mass each node carries, kg. */
  readonly mass_kg: Float64Array;
  /** Sum of the sizes of all loads, N. */
  readonly load_N: number;
  /** Whether what rests is not what was guessed. */
  readonly contactsChanged: boolean;
  readonly ok: boolean;
}

/** What is known before the solve. */
export interface Before {
  /** 6 × nodes, global axes. */
  readonly guess: Float64Array;
  /** A speed (m/s) that sizes the drag, 0 where unknown, and the part of the load the drag is at that speed. */
  readonly speed: number;
  readonly drag: number;
  /** Speeds the drag leaves alone (3 × nodes, global axes): the last calm ones. */
  readonly calm?: Float64Array | undefined;
  /** Whether contacts changed in the last solve. */
  readonly restless: boolean;
}

/** Drag against sliding and rolling freely, as a fraction of the load at the greatest speed. */
export const DRAG = 1e-5;
/** Before any speed is known the drag is this fraction of the stiffness on the diagonal. */
const FIRST_DRAG = 1e-11;

/**
 * Speeds of a soft wall under its weight (Stokes-Rayleigh: a linear shell with modulus 3η, ratio ν), resting where
 * it must. What rests and pushes in `contacts` is first guess and answer.
 */
export const rateOf = (
  solver: LaggedSolver,
  shape: SoftShape,
  law: RateLaw,
  contacts: Contacts,
  before: Before,
  rubbing?: Rubbing,
): RateResult => {
  const w = setUp(solver, shape, law, contacts, before, rubbing);
  const ok = settle(w, before.restless);
  const s = solver.system;
  solver.power = Math.abs(dot(w.right, w.x));
  return collect(w, shape, ok, s);
};

const setUp = (
  solver: LaggedSolver,
  shape: SoftShape,
  law: RateLaw,
  contacts: Contacts,
  before: Before,
  rubbing: Rubbing | undefined,
): Work => {
  const s = solver.system;
  const { viscosity_Pa_s: eta } = law;
  const modulus = typeof eta === 'number' ? 3 * eta : eta.map((e) => 3 * e);
  assemble(s, shape.positions, shape.thickness_m, {
    modulus: scaledModulus(modulus, law.poisson),
    poisson: law.poisson,
  });
  const load = loadOn(s, shape, law);
  const drag = load.mass.slice();
  for (let n = 0; n < s.nodes; n++) {
    if (before.speed > 0) drag[n] *= (before.drag * load.total_N) / (load.mass_kg * before.speed);
    else {
      const k = 36 * s.matrix.start[s.rank[n]];
      const v = s.matrix.values;
      drag[n] = FIRST_DRAG * (v[k] + v[k + 7] + v[k + 14]);
    }
  }
  addToDiagonal(s, drag);
  const { frames } = contacts;
  const force = load.force.slice();
  if (before.calm)
    for (let n = 0; n < s.nodes; n++)
      for (let c = 0; c < 3; c++) force[B * n + c] += drag[n] * before.calm[3 * n + c];
  const guess = before.guess.slice();
  const support = rubbing ? rubbing.support_m_s.slice() : new Float64Array(0);
  if (frames) {
    turnMatrix(s, frames);
    turnVectors(frames, force, B);
    turnVectors(frames, guess, B);
    if (rubbing) turnVectors(frames, support, 3);
  }
  const size = B * s.nodes;
  const right = new Float64Array(size);
  const x = new Float64Array(size);
  toElimination(s, force, right);
  toElimination(s, guess, x);
  const base = new Uint8Array(size);
  const held = turnHeld(frames, law.held);
  if (held.length > 0)
    for (let n = 0; n < s.nodes; n++) for (let c = 0; c < B; c++) base[B * s.rank[n] + c] = held[B * n + c];
  if (rubbing) rub(rubbing, s, x, support, right);
  return {
    solver,
    law,
    contacts,
    rubbing,
    load,
    drag,
    calm: before.calm,
    right,
    linkForce: new Float64Array(size),
    springs: [],
    x,
    reaction: new Float64Array(size),
    base,
    columns: contacts.links.map((l) => columnOf(l, frames, s.rank, base)),
    guessed: contacts.resting.slice(),
    support,
  };
};

/** The answer in global axes and mesh order, with forces and powers. */
const collect = (w: Work, shape: SoftShape, ok: boolean, s: ShellSystem): RateResult => {
  const { contacts, rubbing, law } = w;
  const { frames, resting, on } = contacts;
  finishLinks(w);
  const push_N = new Float64Array(s.nodes);
  const contactForce_N = new Float64Array(3 * s.nodes);
  for (let n = 0; n < s.nodes; n++) {
    const i = B * s.rank[n];
    for (let c = 0; c < 3; c++) contactForce_N[3 * n + c] = w.linkForce[i + c];
    if (rubbing)
      for (let c = 0; c < 2; c++)
        contactForce_N[3 * n + c] -= rubbing.drag[n] * (w.x[i + c] - w.support[3 * n + c]);
    if (!resting[n] || on[n] < 0) continue;
    push_N[n] = w.reaction[i + 2];
    contactForce_N[3 * n + 2] += push_N[n];
    if (grips(w, n)) for (let c = 0; c < 2; c++) contactForce_N[3 * n + c] += w.reaction[i + c];
  }
  // The last solve left K·x - right - links in `reaction`; what springs under links took is in the links' pushes.
  const total_W = dot(w.x, w.reaction) + dot(w.x, w.right) + dot(w.x, w.linkForce);
  const rates = new Float64Array(B * s.nodes);
  fromElimination(s, w.x, rates);
  const wholePowers = powersOf(w.load, rates, w.drag, rubbing, w.support, contactForce_N, frames, total_W);
  if (frames) {
    turnBack(frames, rates, B);
    turnBack(frames, contactForce_N, 3);
  }
  const powers = { ...wholePowers, drag_W: wholePowers.drag_W - leftAlone(w, rates) };
  if (law.shelf === 'slides' && law.held.length === 0 && !rubbing && w.columns.length === 0 && !frames)
    stopDrift(s.triangles, shape, rates);
  const contactsChanged = w.guessed.some((r, n) => r !== resting[n]);
  const { mass: mass_kg, total_N: load_N } = w.load;
  return { rates, push_N, contactForce_N, powers, mass_kg, load_N, contactsChanged, ok };
};

/** Power that the drag gives back to what it leaves alone, W. */
const leftAlone = (w: Work, rates: Float64Array): number => {
  let power = 0;
  if (w.calm)
    for (let n = 0; n < w.drag.length; n++)
      for (let c = 0; c < 3; c++) power += w.drag[n] * w.calm[3 * n + c] * rates[B * n + c];
  return power;
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
