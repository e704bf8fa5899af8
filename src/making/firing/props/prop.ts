import { z } from 'zod';

/**
 * What every prop has in common. Lengths in a file are millimetres as one sets them in the kiln, beside the bone-dry
 * piece; the functions below them work in metres.
 */

/** Writes the unit normal (out of the prop) to out[0..2] and the signed distance (m, negative inside) to out[3]. */
export type Distance = (x: number, y: number, z: number, out: Float64Array) => void;

/** One row of the table of props: pure functions of the prop's own data. */
export interface Shape<P> {
  /** Signed distance from the skin of the prop; z = 0 is the shelf, and a prop goes on below it. */
  readonly distance: (prop: P) => Distance;
  /** Its outline for drawing: [across, up] in metres from one foot on the shelf over the top to the other. */
  readonly outline: (prop: P, reach_m: number) => readonly (readonly [number, number])[];
  /** How the outline sweeps out the body: round an upright axis, along x over a length, or along a wall. */
  readonly sweep: (prop: P, reach_m: number) => Sweep;
  /** Highest point, m; Infinity where it is taller than any piece. */
  readonly top_m: (prop: P) => number;
}

export interface Sweep {
  readonly kind: 'round' | 'along';
  /** Where the outline's zero stands, m. */
  readonly x_m: number;
  readonly y_m: number;
  /** Length of an `along` sweep, m. */
  readonly length_m: number;
  /** Turn of the whole about the upright through x, y, rad; an outline swept along runs along x before it. */
  readonly turn_rad: number;
}

/** Shelf position along and across, the same words for every prop. */
export const place = (least_mm = -1000) => ({
  x_mm: z
    .number()
    .min(least_mm)
    .max(1000)
    .default(0)
    .describe(
      'Where along, mm. On its side: from under the middle of the piece, positive towards the lip. Standing or leaning: from under the middle of the foot (rim down: of the rim), positive towards the side it leans to',
    ),
  y_mm: z
    .number()
    .min(-1000)
    .max(1000)
    .default(0)
    .describe("Where across, mm: from under the piece's axis, to the left as one looks along x"),
});

export const shrinks = () =>
  z
    .boolean()
    .default(false)
    .describe(
      'Made of the same clay and shrinking along with the piece; else kiln furniture, which does not',
    );

/** Edges of kiln furniture are never sharp: rounded by this, mm. */
export const EDGE_mm = 2;
