import { sectionOf } from '../../../kernel/mesh/cut.ts';
import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import { asDrawn } from '../../../making/firing/aim/aim.ts';
import type { Aim } from '../../../making/firing/aim/aim-contract.ts';
import type { Made } from '../../worker/aim-jobs.ts';
import { type Corner, wallsOf } from '../section-shape.ts';

/** Walls cut through the axis, upright as drawn: across and up, mm. */
export type CutWalls = readonly (readonly Corner[])[];

export interface Sections {
  readonly wanted: CutWalls;
  /** None where nothing was found. */
  readonly green: CutWalls;
  readonly fired: CutWalls;
  /** The kiln's down lies to the right of the drawing: the piece lay on that side. */
  readonly lay: boolean;
}

const THROUGH_AXIS = [0, 0, 0] as const;
const ACROSS = [0, 1, 0] as const;
const MM = 1000;

/** Turned round its axis so that what was below in the kiln lies to the right. */
const turnedTo = (positions: Float64Array, angle_rad: number): Float64Array => {
  const [c, s] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  return positions.map((v, i) => {
    const [x, y] = [positions[i - (i % 3)]!, positions[i - (i % 3) + 1]!];
    return i % 3 === 0 ? c * x + s * y : i % 3 === 1 ? c * y - s * x : v;
  });
};

export const cutThrough = (wall: WallMesh, angle_rad = 0): CutWalls =>
  wallsOf(sectionOf({ ...wall, positions: turnedTo(wall.positions, angle_rad) }, THROUGH_AXIS, ACROSS)).map(
    (w) => w.map(([x, z]) => [MM * x, MM * z] as const),
  );

/** What is below in the kiln as an angle of the drawing; none where it stands upright or rim down. */
const downAngle = (a: Aim): number | undefined => {
  if (a.input.setting.attitude !== 'on its side') return undefined;
  const { turn } = a.place;
  return Math.atan2(-turn[5]!, -turn[2]!);
};

/** The free green shape or the one hands can make, with what becomes of it. */
export const sectionsOf = (a: Aim, made: Made | undefined): Sections => {
  const down = downAngle(a);
  const cut = (wall: WallMesh) => cutThrough(wall, down ?? 0);
  const drawn = (wall: WallMesh, scale: number) =>
    cut({ ...wall, positions: asDrawn(a, wall.positions, scale) });
  const known = a.passes.length > 0 && Number.isFinite(a.max_m);
  const [green, fired] = made
    ? [cut(made.mesh), made.fired ? cut(made.fired) : []]
    : known
      ? [drawn(a.green, 1 / a.firedScale), drawn(a.fired, 1)]
      : [[], []];
  return { wanted: cut(a.mesh), green, fired, lay: down !== undefined };
};

/** Dry lengths brought to fired size, to see the shapes and not the shrinkage. */
export const withoutShrinkage = (walls: CutWalls, firedScale: number): CutWalls =>
  walls.map((w) => w.map(([x, z]) => [x * firedScale, z * firedScale] as const));

export const boxAround = (all: readonly CutWalls[], room: number) => {
  const corners = all.flat(2);
  const xs = corners.map(([x]) => x);
  const zs = corners.map(([, z]) => z);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [low, high] = [Math.min(0, ...zs), Math.max(...zs)];
  return { x: left - room, y: -high - room, w: right - left + 2 * room, h: high - low + 2 * room };
};

export const pathOf = (walls: CutWalls): string =>
  walls
    .map(
      (w) => `${w.map(([x, z], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(2)} ${(-z).toFixed(2)}`).join('')}Z`,
    )
    .join('');
