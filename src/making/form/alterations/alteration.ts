/** What an alteration is told about one place of the wall. Lengths in mm, as the form is drawn. */
export interface Place {
  /** Angle round the axis from +x, rad. */
  readonly angle_rad: number;
  /** Share of the outer line, 0 at the foot edge to 1 at the lip; on the floor that of the wall's beginning. */
  readonly along: number;
  /** Length of the outer line, mm. */
  readonly lineLength_mm: number;
  /** Radius of the unaltered mid-surface here, mm. */
  readonly radius_mm: number;
  /**
   * Where "out" points here, [radial, up]: at right angles to the drawn wall, level near the foot.
   * On the floor it is level and shrinks towards the middle, so that a floor stays flat and whole.
   */
  readonly out: readonly [number, number];
}

/** x, y, z in mm. */
export type Point = readonly [number, number, number];

/** Moves one point of the mid-surface, which has been through the alterations before this one. */
export type Mover = (place: Place, at: Point) => Point;

/** One row of the table of alterations: pure functions of the alteration's own data. */
export interface Alter<A> {
  /** Moves the mid-surface. */
  readonly move?: (alteration: A) => Mover;
  /** How much of the wall is cut away at the lip at this angle, mm along the line. */
  readonly trim?: (alteration: A) => (angle_rad: number) => number;
  /** How often its pattern repeats round the axis; 1 when it does not. */
  readonly folds: (alteration: A) => number;
  /** How far its pattern has turned at this share of the line, rad. */
  readonly turn: (alteration: A, along: number) => number;
  /** Finest feature round the axis, rad; the mesh wants a few nodes across it. */
  readonly finest_rad: (alteration: A) => number;
}

/** Moves a point along "out" by so many mm. */
export const pushOut = (place: Place, at: Point, by_mm: number): Point => [
  at[0] + by_mm * place.out[0] * Math.cos(place.angle_rad),
  at[1] + by_mm * place.out[0] * Math.sin(place.angle_rad),
  at[2] + by_mm * place.out[1],
];

export const radians = (deg: number): number => (deg * Math.PI) / 180;
