import type { CarvedOutline, Carving, Opening } from './carving-shape.ts';
import { type Polygon, type ReadOutline, readOutline } from './outline.ts';
import type { Unrolled } from './unroll.ts';

/** The middle of one copy on the wall. */
export interface Spot {
  /** Which row and which in it. */
  readonly row: number;
  readonly copy: number;
  /** mm up the wall (`Unrolled.rise`), and the angle, rad. */
  readonly rise: number;
  readonly angle_rad: number;
}

/** One closed outline on the wall, its corners in mm about its spot. */
export interface Laid {
  /** Place in the form's list. */
  readonly carving: number;
  readonly through: boolean;
  readonly spot: Spot;
  readonly polygon: Polygon;
}

const TURN = 2 * Math.PI;
export const radians = (deg: number): number => (deg * Math.PI) / 180;

/** From row to row when nobody says: one and a half heights. */
const ROW_STEP = 1.5;

export const spotsOf = (c: Opening | CarvedOutline, wall: Unrolled): Spot[] => {
  const rise = wall.rise(wall.lengthAtAlong(c.along));
  const step = c.rowStep_mm ?? ROW_STEP * c.height_mm;
  const out: Spot[] = [];
  for (let row = 0; row < c.rows; row++) {
    const shift = c.staggered && row % 2 === 1 ? 0.5 : 0;
    for (let copy = 0; copy < c.count; copy++)
      out.push({
        row,
        copy,
        rise: rise + row * step,
        angle_rad: radians(c.angle_deg) + (TURN * (copy + shift)) / c.count,
      });
  }
  return out;
};

export const outlineOf = (c: Opening | CarvedOutline): ReadOutline =>
  readOutline(c.outline, c.width_mm, c.height_mm, radians(c.turn_deg));

/**
 * The place `u` mm round and `v` mm up from a spot: length on the section and unrolled x. Lengths round are measured
 * on the ring the place lies on, so that a figure keeps its width and area on a wall that widens.
 */
export const placeFrom = (
  wall: Unrolled,
  spot: Spot,
  u: number,
  v: number,
): { readonly length: number; readonly x: number } => {
  const length = wall.lengthOfRise(spot.rise + v);
  return { length, x: wall.x(length, spot.angle_rad) + u / wall.scale(length) };
};

/** Every outline cut through the wall, copy by copy. */
export const openingsOf = (carving: readonly Carving[], wall: Unrolled): Laid[] =>
  carving.flatMap((c, i) => {
    if (c.kind !== 'opening') return [];
    const { polygons } = outlineOf(c);
    return spotsOf(c, wall).flatMap((spot) =>
      polygons.map((polygon) => ({ carving: i, through: true, spot, polygon })),
    );
  });
