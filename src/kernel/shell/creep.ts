import type { MakeEngine } from '../numerics/front-engine.ts';
import {
  broughtUp,
  contactsFor,
  MOST_MOVE,
  makeAround,
  meets,
  rubbingFor,
  type Touchable,
} from './around.ts';
import { calmPart } from './calm.ts';
import { EASE } from './contact-tolerances.ts';
import { extentOf, greatestSpeed } from './extent.ts';
import { triangleAreas } from './geometry.ts';
import { makeLaggedSolver } from './lagged.ts';
import { ADAMS_ERROR, jumpTime, keepPace, MOST_JUMPS, type Pace, pacedStep } from './pace.ts';
import type { Powers } from './power.ts';
import { DRAG, type RateResult, rateOf } from './rate.ts';
import type { SoftShape } from './soft-shape.ts';
import { CHANGES, FLOW_AT_FIRST, leastFlowOf, steadied } from './steadying.ts';
import { makeShellSystem, type ShellSystem } from './system.ts';

/**
 * How a soft wall moves under its own weight on a shelf. At each instant its speeds solve a linear shell
 * problem on the present shape (no elastic memory); the shape is carried along by them, each wall keeps its
 * volume, and so on to the end.
 *
 * Steps: two-step Adams-Bashforth with changing step (E. Hairer, S. P. Nørsett, G. Wanner, "Solving Ordinary
 * Differential Equations I", III.5), started by a midpoint step: one system a step. Steps follow the local
 * error 5/12·dt³·|v''|, in the root-mean-square over nodes so that one node touching down does not stop time.
 */
export interface CreepProblem extends Touchable {
  readonly density_kg_m3: number;
  readonly gravity_m_s2: number;
  /** Shear viscosity of all, of each triangle, or of each triangle at a time. */
  readonly viscosity_Pa_s: number | Float64Array | ((time_s: number) => Float64Array);
  /** Viscous Poisson ratio at a time; ½ where the body is dense. */
  readonly poissonAt?: (time_s: number) => number;
  /** Pressure on the inside (along outward normals), Pa; nothing where left out. */
  readonly pressure_Pa?: number;
  /**
   * A whole piece on few supports rolls and tips as fast as its drag lets it, far faster than it flows, and long steps
   * then leap. This is the part of its load with which such rigid motion is slowed at the speed of its own flow (its
   * power over its weight); left out, next to nothing. At 0.01 the checks of this folder's tests keep their tolerances
   * but for two of 0.1 % of the weight.
   */
  readonly steadying?: number;
  readonly duration_s: number;
}

export interface CreepOptions {
  /** A fixed number of equal steps (quick look); without it steps follow `tolerance_m`. */
  readonly steps?: number;
  /** Local error allowed a step, m; without it a fixed part of the size of the piece. */
  readonly tolerance_m?: number;
  /** Part of the load's energy norm each solve may leave; usually 1e-7, 1e-4 in a quick look. */
  readonly residual?: number;
  /** No step longer than this at a time, s; without it a twelfth of the whole. */
  readonly longest_s?: ((time_s: number) => number) | undefined;
  /** A faster engine for the factorisations, where the door has one. */
  readonly engine?: MakeEngine;
}

/** The wall after one step; arrays are copies and belong to the receiver. */
export interface CreepStep {
  readonly time_s: number;
  readonly positions: Float64Array;
  readonly thickness_m: Float64Array;
  /** 6 × nodes, at the start of the next step. */
  readonly rates: Float64Array;
  readonly resting: Uint8Array;
  /** What each resting node rests on: 0 the shelf, k obstacle k - 1; -1 where it rests on neither. */
  readonly restsOn: Int16Array;
  /** Push of its support on each node along the support's normal, N. */
  readonly push_N: Float64Array;
  /** All that shelf, obstacles, friction and the wall itself do to each node, 3 × nodes, N. */
  readonly contactForce_N: Float64Array;
  /** Where the power goes at this moment. */
  readonly powers: Powers;
  /** Summed estimate of the stepping error so far, m. */
  readonly stepError_m: number;
  /** When one part of the wall first met another, if it did by now. */
  readonly met_s?: number | undefined;
}

/** How it ended; trouble of the material is data, never thrown. */
export interface CreepEnd {
  readonly kind: 'time is up' | 'keeps falling' | 'cannot stand' | 'mesh spent';
  readonly time_s: number;
  readonly steps: number;
  readonly factorisations: number;
  readonly iterations: number;
  /** First time each node touched the shelf or an obstacle, NaN if never. */
  readonly touched_s: Float64Array;
  /** First time one part of the wall rested on another; undefined if never, or where self-contact was not asked for. */
  readonly met_s?: number;
}

/** Energy-norm residual of each solve; a quick look has larger errors elsewhere. */
const FINE_RESIDUAL = 1e-7;
const QUICK_RESIDUAL = 1e-4;
const DEFAULT_TOLERANCE = 5e-5;
/** Falling has no end when steps this small against the whole time are still too long. */
const SMALLEST_STEP = 1e-5;
const MOST_STEPS = 400;
/** A quick look never takes more. */
const MOST_QUICK_STEPS = 16;
/** A first look at the speed decides the first step: move no more than this part of the piece's size. */
const FIRST_MOVE = 0.01;
/** Nor more than this part of the wall: a flat sheet stiffens as it sags by a wall (a whole one in a step: 1.2 % out later). */
const FIRST_WALLS = 0.5;

const meanOf = (values: Float64Array): number => values.reduce((sum, x) => sum + x, 0) / values.length;

/** Runs a creep problem step by step; the caller owns the clock. */
export function* creep(
  problem: CreepProblem,
  options: CreepOptions = {},
): Generator<CreepStep, CreepEnd, void> {
  const system = makeShellSystem(problem.positions, problem.triangles, options.engine);
  try {
    return yield* stepThrough(problem, options, system);
  } finally {
    system.factor.engine.free();
  }
}

function* stepThrough(
  problem: CreepProblem,
  options: CreepOptions,
  system: ShellSystem,
): Generator<CreepStep, CreepEnd, void> {
  const nodes = problem.positions.length / 3;
  const T = problem.duration_s;
  const longest = options.longest_s ?? (() => T / 12);
  const solver = makeLaggedSolver(system);
  const areas = new Float64Array(problem.thickness_m.length);
  triangleAreas(problem.positions, problem.triangles, areas);
  const mass = areas.map((a, t) => a * problem.thickness_m[t] * problem.density_kg_m3);
  const shape: SoftShape = {
    positions: problem.positions.slice(),
    thickness_m: problem.thickness_m.slice(),
    mass_kg: mass,
    skinShare: problem.skinShare,
  };
  const size = extentOf(problem.positions);
  const tolerance = options.tolerance_m ?? DEFAULT_TOLERANCE * size;
  const firstMove = Math.min(FIRST_MOVE * size, FIRST_WALLS * meanOf(problem.thickness_m));
  const touched = new Float64Array(nodes).fill(Number.NaN);
  let met: number | undefined;
  let guess: Float64Array = new Float64Array(6 * nodes);
  let typical = 0;
  const leastFlow = leastFlowOf(problem, size);
  let flow = FLOW_AT_FIRST * leastFlow;
  let calm: Float64Array | undefined;
  let restless = true;
  let time = 0;
  let stepError = 0;
  let steps = 0;

  const end = (kind: CreepEnd['kind']): CreepEnd => ({
    kind,
    time_s: time,
    steps,
    factorisations: solver.factorisations,
    iterations: solver.iterations,
    touched_s: touched,
    met_s: met,
  });

  const around = makeAround(problem, size);

  /** Speeds now, with each free node kept from falling through its gap in a step of AB2 with ratio r. */
  const ratesFor = (dt: number, r: number, last?: Float64Array): RateResult => {
    const ease_s = problem.steadying && flow > 0 ? (EASE * size) / flow : 0;
    const step = { time_s: time, dt_s: dt, r, last, speed_m_s: typical, ease_s };
    const contacts = contactsFor(around, shape, step);
    const eta = problem.viscosity_Pa_s;
    const law = {
      viscosity_Pa_s: typeof eta === 'function' ? eta(time) : eta,
      poisson: problem.poissonAt ? problem.poissonAt(time) : 0.5,
      gravity_m_s2: problem.gravity_m_s2,
      pressure_Pa: problem.pressure_Pa ?? 0,
      shelf: problem.shelf,
      held: problem.held,
      residual: options.residual ?? (options.steps ? QUICK_RESIDUAL : FINE_RESIDUAL),
    };
    const before = problem.steadying
      ? { guess, speed: flow, drag: problem.steadying, calm, restless }
      : { guess, speed: typical, drag: DRAG, restless };
    const rubbing = rubbingFor(around, shape, step);
    const result = rateOf(solver, shape, law, contacts, before, rubbing);
    // On the coarse mesh of a quick look a factorisation costs no more than trying without.
    restless = result.contactsChanged || options.steps !== undefined;
    guess = result.rates;
    typical = greatestSpeed(result.rates);
    const most = steps === 0 ? CHANGES.first : CHANGES.later;
    flow = steadied(flow, leastFlow, result.powers.viscous_W / result.load_N, most);
    if (problem.steadying) calm = calmPart(shape.positions, result.rates, result.mass_kg);
    if (rubbing) around.pressed_N.set(rubbing.push_N);
    return result;
  };

  const move = (dt: number, a: Float64Array, wa: number, b?: Float64Array, wb = 0): boolean => {
    const p = shape.positions;
    for (let n = 0; n < nodes; n++)
      for (let c = 0; c < 3; c++) p[3 * n + c] += dt * (wa * a[6 * n + c] + (b ? wb * b[6 * n + c] : 0));
    return keepVolume(shape, problem, areas);
  };

  /** The walls with which a shape handed out holds what the shape stepped on holds. */
  const wallFor = (positions: Float64Array): Float64Array => {
    const handed = new Float64Array(areas.length);
    triangleAreas(positions, problem.triangles, handed);
    return shape.thickness_m.map((h, t) => (h * areas[t]) / handed[t]);
  };

  const snapshot = (r: RateResult): CreepStep => {
    const { resting } = around;
    for (let n = 0; n < nodes; n++) if (resting[n] && Number.isNaN(touched[n])) touched[n] = time;
    if (met === undefined && meets(around)) met = time;
    const positions = broughtUp(around, shape.positions);
    return {
      time_s: time,
      positions,
      thickness_m: wallFor(positions),
      rates: r.rates,
      resting: resting.slice(),
      restsOn: Int16Array.from(resting, (x, n) => (x ? around.supports.on[n] : -1)),
      push_N: r.push_N,
      contactForce_N: r.contactForce_N,
      powers: r.powers,
      stepError_m: stepError,
      met_s: met,
    };
  };

  /** A quick look takes its steps as they come, but for what rolls: that turns too far in one straight step. */
  const quickStep = (): number =>
    Math.max(
      T / MOST_QUICK_STEPS,
      Math.min(T / (options.steps ?? 1), problem.steadying ? (MOST_MOVE * size) / (typical || 1e-300) : T),
    );

  // First look: where does it rest, how fast does it go?
  let dt = options.steps ? T / options.steps : T / 1000;
  let now = ratesFor(dt, 0);
  if (!now.ok) return end('cannot stand');
  // Until the flow is known nothing steadies rigid motion, which would make the first step far too short.
  if (problem.steadying) now = ratesFor(dt, 0);
  if (!options.steps) {
    dt = Math.min(longest(0), firstMove / (typical || 1e-300));
    now = ratesFor(dt, 0);
  } else if (quickStep() < 0.9 * dt) {
    dt = quickStep();
    now = ratesFor(dt, 0);
  }
  yield snapshot(now);

  // Midpoint start; a quick look starts with a plain step, which costs it half a per cent.
  let first = now.rates;
  if (!options.steps) {
    const start = shape.positions.slice();
    if (!move(dt / 2, now.rates, 1)) return end('mesh spent');
    const half = ratesFor(dt, 0);
    if (!half.ok) return end('cannot stand');
    shape.positions.set(start);
    first = half.rates;
  }
  if (!move(dt, first, 1)) return end('mesh spent');
  time += dt;
  steps++;
  const pace: Pace = { past: [{ rates: now.rates, dt }], quiet: 0, sharpness: 0 };

  while (true) {
    const last = pace.past[0];
    const left = T - time;
    if (left <= 1e-9 * T) {
      // The speeds at the end only bend the film's last piece; a quick look does without.
      if (!options.steps) now = ratesFor(last.dt, 0);
      else
        contactsFor(around, shape, {
          time_s: time,
          dt_s: last.dt,
          r: 0,
          last: undefined,
          speed_m_s: typical,
          ease_s: 0,
        });
      yield snapshot(now);
      return end(now.ok ? 'time is up' : 'keeps falling');
    }
    if (!options.steps) {
      dt = Math.min(
        longest(time),
        pacedStep(pace, 1.6 * dt, tolerance),
        (MOST_MOVE * size) / (typical || 1e-300),
      );
      if (dt > left * 0.999) dt = left;
      else if (dt > left / 2) dt = left / 2;
    } else dt = Math.min(quickStep(), left);
    now = ratesFor(dt, dt / last.dt, last.rates);
    if (!now.ok) return end('keeps falling');
    yield snapshot(now);
    keepPace(pace, now, dt);
    // The speeds just found may tell of a sharper turn than was foreseen; they serve a shorter step as well.
    if (!options.steps)
      dt = Math.max(
        0.1 * dt,
        Math.min(
          pacedStep(pace, dt, tolerance),
          MOST_JUMPS * tolerance * jumpTime(now.rates, last.rates),
          (MOST_MOVE * size) / (typical || 1e-300),
        ),
      );
    const r = dt / last.dt;
    if (dt < SMALLEST_STEP * T || steps >= MOST_STEPS || typical * dt > size) return end('keeps falling');
    stepError += ADAMS_ERROR * dt ** 3 * pace.sharpness;
    if (!move(dt, now.rates, 1 + r / 2, last.rates, -r / 2)) return end('mesh spent');
    time += dt;
    steps++;
    pace.past[0] = { rates: now.rates, dt };
  }
}

/**
 * Walls thin as their triangles grow, each keeping its volume, porous or not. (A porous wall that is stretched thins less and
 * opens its pores; but the pores are known as a function of time alone and close in the end, so what counts is that no
 * weight is lost on the way: with dln h = -ν/(1-ν) dln A a gripping foot cost 1.6 % of a piece.) False: a triangle collapsed.
 */
const keepVolume = (shape: SoftShape, problem: CreepProblem, areas: Float64Array): boolean => {
  const before = areas.slice();
  triangleAreas(shape.positions, problem.triangles, areas);
  let sound = true;
  for (let t = 0; t < areas.length; t++) {
    const q = before[t] / areas[t];
    shape.thickness_m[t] *= q;
    if (!(q < 3 && q > 0.3)) sound = false;
  }
  return sound;
};
