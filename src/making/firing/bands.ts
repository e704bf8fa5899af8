import { sectionOf } from '../../kernel/mesh/cut.ts';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { onNearest } from '../../kernel/mesh/on-nearest.ts';
import { quantileOf } from '../../kernel/numerics/normal.ts';
import { type FilmStep, positionsAt } from '../../kernel/shell/film.ts';
import { type CoarseFilm, within } from './coarse-film.ts';
import type { Moment } from './ensemble.ts';
import type { BandShape, Bands } from './firing.ts';

import { OUTSIDE } from './spread.ts';

/** The shapes between which four cases in five lie: the piece stiffer and softer than taken, at its nominal size. */

const THROUGH_AXIS = [0, 0, 0] as const;
const ACROSS_PLANE = [0, 1, 0] as const;

const shapeOf = (wall: WallMesh): BandShape => ({
  positions: wall.positions,
  thickness_m: wall.thickness_m,
  section: sectionOf(wall, THROUGH_AXIS, ACROSS_PLANE),
});

/**
 * @param fired the piece as it comes out; `dry` the same nodes as set on the shelf, bone dry
 * @param fine its film, which holds the stiffer shape; the softer one is the fired shape moved on as the coarse film goes on
 * @param by how much more the fine mesh moves than the coarse one
 */
export const bandsOf = (
  fired: WallMesh,
  dry: Float64Array,
  fine: readonly FilmStep[],
  film: CoarseFilm,
  nominal: Moment,
  trials: readonly Moment[],
  by: number,
  why: string,
): Bands => {
  const clocks = trials.map((t) => t.clock);
  const stiffClock = Math.min(nominal.clock, quantileOf(clocks, OUTSIDE));
  const softClock = Math.max(nominal.clock, quantileOf(clocks, 1 - OUTSIDE));
  const L = nominal.scale;
  const now = positionsAt(film.steps, nominal.clock);
  const later = positionsAt(film.steps, softClock).map((x, i) => by * L * (x - now[i]));
  const further = onNearest({ positions: film.down.positions, triangles: film.mesh.triangles }, later, dry);
  const shape = (positions: Float64Array): BandShape => shapeOf({ ...fired, positions });
  return {
    stiff: shape(positionsAt(fine, stiffClock).map((x) => L * x)),
    soft: shape(fired.positions.map((x, i) => x + further[i])),
    softFalls: film.end === 'fell' && !within(film, softClock),
    why,
  };
};
