import { positionsAt, wallAt } from '../../kernel/shell/film.ts';
import { GAS_CONSTANT_J_molK } from '../../units.ts';
import type { Clay } from '../clay/clay.ts';
import type { Estimate } from './firing.ts';
import type { Softening } from './soften.ts';

/**
 * How sure we are. In the creep clock a softer clay is simply a later moment of the same film, so one coarse run
 * that goes on past the end gives the whole spread: its shape at clock/k and clock·k brackets the answer.
 */

/** The kiln's own uncertainty: what a controller and its thermocouple may be off by (a guess), K. */
export const KILN_OFF_K = 6;

/** 80 % factor on the creep clock from the clay's softness and the kiln's temperature, taken as independent. */
export const clockFactor = (clay: Clay, peak_K: number): number => {
  const clayLog = Math.log(clay.sagViscosity.factor80);
  const kilnLog =
    (1000 * clay.sagViscosity.activation_kJ_mol * KILN_OFF_K) / (GAS_CONSTANT_J_molK * peak_K * peak_K);
  return Math.exp(Math.hypot(clayLog, kilnLog));
};

/**
 * What the shrinkages, drying and firing together, may be off by as a share of the size (80 %, a guess by how they are
 * known): pieces of one clay differ by about half a per cent as it is (common practice, no source).
 */
const SHRINKAGE_OFF = { guess: 0.01, published: 0.007, measured: 0.003 } as const;
export const sizeOff = (clay: Clay): number =>
  Math.hypot(SHRINKAGE_OFF[clay.dryingShrinkage.how], SHRINKAGE_OFF[clay.firingShrinkage.how]);

/** Which readings go with size, and by what power; drops and sags are told beyond shrinkage. */
const GOES_WITH_SIZE: Readonly<Record<string, number>> = {
  height_m: 1,
  widest_m: 1,
  lipWidth_m: 1,
  thinnestWall_m: 1,
  capacity_m3: 3,
};

/** What is measured on a shape in bone-dry lengths. */
export type Readings = Readonly<Record<string, number>>;
export type ReadShape = (positions: Float64Array, wall_m: Float64Array) => Readings;

const readAt = (run: Softening, clock: number, read: ReadShape): Readings =>
  read(positionsAt(run.steps, clock), wallAt(run.steps, clock));

/**
 * Intervals for the readings of the fine run: what the coarse run says of softer and stiffer, plus the
 * difference between the meshes, taken to fall with the number of triangles, and what the shrinkage may be off by; taken
 * as independent.
 * @param read reads the coarse shape with the same keys as `fine`
 */
export const spreadOf = (
  fine: Readings,
  coarse: Softening,
  read: ReadShape,
  clock: number,
  factor: number,
  triangleRatio: number,
  sizeShare: number,
  why: string,
): Record<string, Estimate> => {
  const middle = readAt(coarse, clock, read);
  const stiff = readAt(coarse, clock / factor, read);
  const soft = readAt(coarse, clock * factor, read);
  const out: Record<string, Estimate> = {};
  for (const [key, value] of Object.entries(fine)) {
    const mesh = triangleRatio > 1 ? Math.abs(middle[key] - value) / (triangleRatio - 1) : 0;
    const size = (GOES_WITH_SIZE[key] ?? 0) * sizeShare * Math.abs(value);
    const a = stiff[key] - middle[key];
    const b = soft[key] - middle[key];
    out[key] = {
      value,
      low: value - Math.hypot(Math.min(a, b, 0), mesh, size),
      high: value + Math.hypot(Math.max(a, b, 0), mesh, size),
      why,
    };
  }
  return out;
};

/** Readings with no interval yet, for the quick look. */
export const unspread = (fine: Readings, why: string): Record<string, Estimate> =>
  Object.fromEntries(
    Object.entries(fine).map(([key, value]) => [key, { value, low: Number.NaN, high: Number.NaN, why }]),
  );
