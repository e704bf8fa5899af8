import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { nodeNormals } from '../../kernel/shell/geometry.ts';
import { type Footing, footingOf } from './footing.ts';
import { rotate, turnTo, type Vec, weightCentre } from './rigid.ts';
import type { Setting } from './setting.ts';

/**
 * Puts a piece on the shelf as a hand would: turned to its attitude, then let tip or roll as a rigid body
 * until it rests with its weight over what it stands on.
 */
export interface SetDown {
  /** 3 × nodes, m; lowest skin at z = 0, centre of weight above the origin. */
  readonly positions: Float64Array;
  /** How far it turned by itself from the attitude asked for, rad. */
  readonly turned_rad: number;
  /** Part of that turn about its own axis (rolling), rad. */
  readonly rolled_rad: number;
  /** Least horizontal way from the centre of weight to the edge of what it stands on, m. */
  readonly footing_m: number;
  readonly steady: boolean;
  /** The whole turn from as meshed to as set: rows are where x, y and z of the mesh now point. */
  readonly turn: Float64Array;
  /** As it would rest at the end of the fire had it only shrunk, bone-dry lengths: what it moved beyond this is sag. */
  readonly shrunkOnly: Float64Array;
  /** Where the origin of the props stands, m. */
  readonly origin_m: readonly [number, number];
}

const MOST_TIPS = 60;
/** Points this near the shelf (m) count as touching it. */
const TOUCHING_m = 3e-5;
/** Balanced on an edge is not standing: the weight must be this part of its own height inside. */
const STEADY = 1e-3;

/** Outer and inner skin points of a wall: what can touch the shelf. */
const skin = (wall: WallMesh, positions: Float64Array): Float64Array => {
  const normals = new Float64Array(positions.length);
  nodeNormals(positions, wall.triangles, normals);
  const out = new Float64Array(2 * positions.length);
  for (let i = 0; i < positions.length; i++) {
    const h = 0.5 * wall.thickness_m[(i / 3) | 0];
    out[i] = positions[i] + h * normals[i];
    out[positions.length + i] = positions[i] - h * normals[i];
  }
  return out;
};

/** Least turn about a horizontal axis through `pivot` that brings a further point to the shelf, rad. */
const turnToNext = (points: Float64Array, f: Footing): number => {
  let least = Math.PI;
  for (let i = 0; i < points.length; i += 3) {
    const z = points[i + 2];
    const s = (points[i] - f.pivot[0]) * f.towards[0] + (points[i + 1] - f.pivot[1]) * f.towards[1];
    // What touches already, at or behind the pivot, is lifted off, not met.
    if (z < TOUCHING_m && s < 1e-6) continue;
    const angle = Math.atan2(Math.max(0, z), s);
    if (angle < least) least = angle;
  }
  return least;
};

/**
 * Sets a piece down in its attitude. `wall` stands upright as meshed, foot at the bottom.
 * @returns where it comes to rest; `steady` false where no footing was found
 */
export const setDown = (wall: WallMesh, setting: Setting): SetDown => {
  const p = wall.positions.slice();
  const turn = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);
  turnTo(p, setting);
  turnTo(turn, setting);
  const axisBefore: Vec = [turn[6], turn[7], turn[8]];
  let turned = 0;
  let rolled = 0;
  for (let tip = 0; ; tip++) {
    const points = skin(wall, p);
    let low = Number.POSITIVE_INFINITY;
    for (let i = 2; i < points.length; i += 3) low = Math.min(low, points[i]);
    for (let i = 2; i < points.length; i += 3) points[i] -= low;
    for (let i = 2; i < p.length; i += 3) p[i] -= low;
    const centre = weightCentre(wall, p);
    const touching: [number, number][] = [];
    for (let i = 0; i < points.length; i += 3)
      if (points[i + 2] < TOUCHING_m) touching.push([points[i], points[i + 1]]);
    const f = footingOf(touching, centre[0], centre[1]);
    const steady = f.margin > STEADY * centre[2];
    if (steady || tip === MOST_TIPS) {
      for (let i = 0; i < p.length; i += 3) {
        p[i] -= centre[0];
        p[i + 1] -= centre[1];
      }
      return {
        positions: p,
        shrunkOnly: p,
        turned_rad: turned,
        rolled_rad: rolled,
        footing_m: f.margin,
        steady,
        turn,
        origin_m: [-centre[0], -centre[1]],
      };
    }
    const angle = turnToNext(points, f);
    const axis: Vec = [-f.towards[1], f.towards[0], 0];
    rotate(p, [f.pivot[0], f.pivot[1], 0], axis, angle);
    rotate(turn, [0, 0, 0], axis, angle);
    turned += angle;
    rolled += angle * Math.abs(axis[0] * axisBefore[0] + axis[1] * axisBefore[1] + axis[2] * axisBefore[2]);
  }
};

/** Turns positions as set back to upright as meshed (rotation only). */
export const turnBack = (positions: Float64Array, turn: Float64Array): Float64Array => {
  const out = new Float64Array(positions.length);
  for (let i = 0; i < positions.length; i += 3)
    for (let c = 0; c < 3; c++)
      out[i + c] =
        turn[3 * c] * positions[i] + turn[3 * c + 1] * positions[i + 1] + turn[3 * c + 2] * positions[i + 2];
  return out;
};
