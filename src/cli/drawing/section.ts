import { type CutLine as Run, sectionOf } from '../../kernel/mesh/cut.ts';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';

/** A vertical plane: through the point (x0, y0), along the horizontal direction `along_rad` from +x. */
export interface Plane {
  readonly x0_m: number;
  readonly y0_m: number;
  readonly along_rad: number;
}

/** One point of the cut mid-surface, seen in the plane: u along it, z up. */
export interface CutPoint {
  readonly u_m: number;
  readonly z_m: number;
  /** Half the wall as the plane cuts it, towards the outside: the wall's two lines are (u, z) ± this. */
  readonly halfU_m: number;
  readonly halfZ_m: number;
  /** The scalar given along, interpolated. */
  readonly value: number;
}

/** A connected run of the cut; a closed one repeats its first point at the end. */
export type CutLine = readonly CutPoint[];

const flatten = (run: Run, values: Float64Array, plane: Plane): CutLine => {
  const [cos, sin] = [Math.cos(plane.along_rad), Math.sin(plane.along_rad)];
  const points = Array.from({ length: run.share.length }, (_, i): CutPoint => {
    const along = (x: ArrayLike<number>): number => x[3 * i] * cos + x[3 * i + 1] * sin;
    const [from, to] = [values[run.from[i]], values[run.to[i]]];
    return {
      u_m: along(run.points) - plane.x0_m * cos - plane.y0_m * sin,
      z_m: run.points[3 * i + 2],
      halfU_m: along(run.half),
      halfZ_m: run.half[3 * i + 2],
      value: from + run.share[i] * (to - from),
    };
  });
  return run.closed ? [...points, points[0]] : points;
};

/** Cuts a walled mesh by a vertical plane and lays the cut flat; `values` is one number a node, carried along. */
export const cutSection = (mesh: WallMesh, values: Float64Array, plane: Plane): CutLine[] =>
  sectionOf(
    mesh,
    [plane.x0_m, plane.y0_m, 0],
    [-Math.sin(plane.along_rad), Math.cos(plane.along_rad), 0],
  ).map((run) => flatten(run, values, plane));
