import { type LaggedSolver, makeLaggedSolver, solveLagged } from '../../kernel/shell/lagged.ts';
import {
  assemble,
  fromElimination,
  makeShellSystem,
  type ShellSystem,
  toElimination,
} from '../../kernel/shell/system.ts';
import type { FormMesh } from '../form/mesh-form.ts';
import type { ElasticClay } from './elastic-clay.ts';
import { type Finger, fingerAt } from './finger.ts';

/** How a piece gives in the hand: small, springy movements at room temperature, by the elements that make it sag. */
export interface Give {
  /** Where on the lip, rad from +x as drawn; a pinch also opposite. */
  readonly angle_rad: number;
  /** Newtons for each metre the fingers move: towards each other for a pinch, down for a push. */
  readonly stiffness_N_m: number;
}

export interface Handling {
  readonly clay: ElasticClay;
  /** Two fingers pinch the lip along a diameter; one a direction asked for. */
  readonly pinch: readonly Give[];
  /** One finger pushes down on the lip, the foot held fast. */
  readonly push: readonly Give[];
}

export interface HandlingWish {
  /** Directions to try, rad; left out, eight over half a turn (a pinch is the same from its other end). */
  readonly angles_rad?: readonly number[];
  /** Width of a fingertip, m. */
  readonly finger_m?: number;
}

const FINGER_m = 0.01;
const DIRECTIONS = Array.from({ length: 8 }, (_, k) => (k * Math.PI) / 8);
const PUSHES = [0, 0.5, 1, 1.5].map((x) => x * Math.PI);
const ROUND_OFF = 1e-12;

/** Room to solve one assembled wall for many loads with one factor. */
interface Bench {
  readonly system: ShellSystem;
  readonly solver: LaggedSolver;
  /** Unknowns held, elimination order. */
  readonly held: Uint8Array;
}

const benchFor = (system: ShellSystem, heldUnknowns: readonly number[]): Bench => {
  const held = new Uint8Array(6 * system.nodes);
  for (const u of heldUnknowns) held[6 * system.rank[Math.floor(u / 6)] + (u % 6)] = 1;
  return { system, solver: makeLaggedSolver(system), held };
};

/** @returns displacements (6 × nodes, mesh order), or undefined where the wall is a mechanism */
const solve = (bench: Bench, force: Float64Array): Float64Array | undefined => {
  const { system, solver, held } = bench;
  const [f, x] = [new Float64Array(force.length), new Float64Array(force.length)];
  toElimination(system, force, f);
  const q = { force: f, held, x, reaction: new Float64Array(force.length) };
  if (!solveLagged(solver, q, ROUND_OFF, solver.heldThen ? 'near' : 'aged')) return undefined;
  const out = new Float64Array(force.length);
  fromElimination(system, x, out);
  return out;
};

const load = (force: Float64Array, finger: Finger, push: readonly number[]): void => {
  finger.nodes.forEach((n, k) => {
    for (let c = 0; c < 3; c++) force[6 * n + c] += finger.shares[k] * push[c];
  });
};

/** How far the skin under a finger moves along a direction: the way its push works over. */
const movedAlong = (u: Float64Array, finger: Finger, way: readonly number[]): number =>
  finger.nodes.reduce(
    (sum, n, k) =>
      sum + finger.shares[k] * (u[6 * n] * way[0] + u[6 * n + 1] * way[1] + u[6 * n + 2] * way[2]),
    0,
  );

/** Along the line between the two fingers, so that they neither push nor turn the piece as a whole. */
const pinchAt = (piece: FormMesh, bench: Bench, angle_rad: number, finger_m: number): number => {
  const [one, other] = [angle_rad, angle_rad + Math.PI].map((a) => fingerAt(piece, a, finger_m));
  const way = [0, 1, 2].map((c) => other.centre[c] - one.centre[c]);
  const apart = Math.hypot(...way);
  const inwards = way.map((x) => x / apart);
  const outwards = inwards.map((x) => -x);
  const force = new Float64Array(6 * bench.system.nodes);
  load(force, one, inwards);
  load(force, other, outwards);
  const u = solve(bench, force);
  return u ? 1 / (movedAlong(u, one, inwards) + movedAlong(u, other, outwards)) : Number.NaN;
};

const pushAt = (piece: FormMesh, bench: Bench, angle_rad: number, finger_m: number): number => {
  const finger = fingerAt(piece, angle_rad, finger_m);
  const down = [0, 0, -1];
  const force = new Float64Array(6 * bench.system.nodes);
  load(force, finger, down);
  const u = solve(bench, force);
  return u ? 1 / movedAlong(u, finger, down) : Number.NaN;
};

/** Wall of each triangle from that of its corners. */
const wallOf = ({ triangles, thickness_m }: FormMesh): Float64Array =>
  Float64Array.from(
    { length: triangles.length / 3 },
    (_, t) =>
      (thickness_m[triangles[3 * t]] +
        thickness_m[triangles[3 * t + 1]] +
        thickness_m[triangles[3 * t + 2]]) /
      3,
  );

/**
 * How stiff a piece is in the hand. A pinch needs no support: its two pushes balance, so one node is held in place and
 * in turn, which takes out exactly the six ways the piece could move as a whole and bears no force.
 * @param piece upright as meshed, SI, in the size of that state of the clay (dry or fired)
 */
export const handlingOf = (piece: FormMesh, clay: ElasticClay, wish: HandlingWish = {}): Handling => {
  const finger_m = wish.finger_m ?? FINGER_m;
  const system = makeShellSystem(piece.positions, piece.triangles);
  assemble(system, piece.positions, wallOf(piece), { modulus: clay.modulus_Pa, poisson: clay.poisson });
  const anyNode = piece.footNodes[0];
  const free = benchFor(
    system,
    [0, 1, 2, 3, 4, 5].map((c) => 6 * anyNode + c),
  );
  const pinch = (wish.angles_rad ?? DIRECTIONS).map((angle_rad) => ({
    angle_rad,
    stiffness_N_m: pinchAt(piece, free, angle_rad, finger_m),
  }));
  const standing = benchFor(
    system,
    [...piece.footNodes].flatMap((n) => [6 * n, 6 * n + 1, 6 * n + 2]),
  );
  const push = (wish.angles_rad ?? PUSHES).map((angle_rad) => ({
    angle_rad,
    stiffness_N_m: pushAt(piece, standing, angle_rad, finger_m),
  }));
  return { clay, pinch, push };
};
