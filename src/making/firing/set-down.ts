import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { nodeNormals } from '../../kernel/shell/geometry.ts';
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
}

type Vec = readonly [number, number, number];
const MOST_TIPS = 60;
/** Points this near the shelf (m) count as touching it. */
const TOUCHING_m = 3e-5;
/** Balanced on an edge is not standing: the weight must be this part of its own height inside. */
const STEADY = 1e-3;

/** Axis-angle rotation of all points about a point (Rodrigues). */
const rotate = (p: Float64Array, centre: Vec, axis: Vec, angle: number): void => {
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const [ux, uy, uz] = axis;
  for (let i = 0; i < p.length; i += 3) {
    const x = p[i] - centre[0];
    const y = p[i + 1] - centre[1];
    const z = p[i + 2] - centre[2];
    const d = (1 - c) * (ux * x + uy * y + uz * z);
    p[i] = centre[0] + c * x + s * (uy * z - uz * y) + d * ux;
    p[i + 1] = centre[1] + c * y + s * (uz * x - ux * z) + d * uy;
    p[i + 2] = centre[2] + c * z + s * (ux * y - uy * x) + d * uz;
  }
};

/** The attitude asked for, before gravity has its say. On its side the axis lies along x, foot at -x. */
const turnTo = (p: Float64Array, setting: Setting): void => {
  const o: Vec = [0, 0, 0];
  if (setting.attitude === 'rim down') rotate(p, o, [1, 0, 0], Math.PI);
  if (setting.attitude === 'on its side') {
    // The meridian at `turn` comes to the bottom: first to +x, then the axis tips over towards it.
    rotate(p, o, [0, 0, 1], (-setting.turn_deg * Math.PI) / 180);
    rotate(p, o, [0, 1, 0], Math.PI / 2);
  }
};

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

const weightCentre = (wall: WallMesh, p: Float64Array): Vec => {
  const sum = [0, 0, 0];
  let total = 0;
  for (let t = 0; t < wall.triangles.length; t += 3) {
    const [a, b, c] = [wall.triangles[t], wall.triangles[t + 1], wall.triangles[t + 2]];
    const u = [0, 1, 2].map((k) => p[3 * b + k] - p[3 * a + k]);
    const v = [0, 1, 2].map((k) => p[3 * c + k] - p[3 * a + k]);
    const area = Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
    const m = area * (wall.thickness_m[a] + wall.thickness_m[b] + wall.thickness_m[c]);
    total += m;
    for (let k = 0; k < 3; k++) sum[k] += (m * (p[3 * a + k] + p[3 * b + k] + p[3 * c + k])) / 3;
  }
  return [sum[0] / total, sum[1] / total, sum[2] / total];
};

/** Convex hull in the plane, counter-clockwise (A. M. Andrew, Inf. Process. Lett. 9 (1979) 216-219). */
const hull = (points: readonly (readonly [number, number])[]): (readonly [number, number])[] => {
  const p = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  if (p.length < 2) return p;
  const half = (list: typeof p) => {
    const out: typeof p = [];
    for (const q of list) {
      while (out.length > 1) {
        const [a, b] = [out[out.length - 2], out[out.length - 1]];
        if ((b[0] - a[0]) * (q[1] - a[1]) - (b[1] - a[1]) * (q[0] - a[0]) > 0) break;
        out.pop();
      }
      out.push(q);
    }
    return out;
  };
  const lower = half(p);
  const upper = half(p.reverse());
  return [...lower.slice(0, -1), ...upper.slice(0, -1)];
};

interface Footing {
  /** Signed way from the weight to the nearest edge, m; negative: outside. */
  readonly margin: number;
  readonly pivot: readonly [number, number];
  /** Horizontal direction in which it tips, unit. */
  readonly towards: readonly [number, number];
}

/** Where the weight stands against the outline of the points that touch. */
const footingOf = (touching: readonly (readonly [number, number])[], x: number, y: number): Footing => {
  const h = hull(touching);
  let best: Footing | undefined;
  let inside = h.length > 2;
  for (let i = 0; i < h.length; i++) {
    const a = h[i];
    const b = h[(i + 1) % h.length];
    const ex = b[0] - a[0];
    const ey = b[1] - a[1];
    const len2 = ex * ex + ey * ey;
    const s = len2 > 0 ? Math.min(1, Math.max(0, ((x - a[0]) * ex + (y - a[1]) * ey) / len2)) : 0;
    const px = a[0] + s * ex;
    const py = a[1] + s * ey;
    const d = Math.hypot(x - px, y - py);
    // One point or one edge has no inside.
    const left = h.length > 2 && ex * (y - a[1]) - ey * (x - a[0]) >= 0;
    if (!left) inside = false;
    if (!best || d < best.margin) {
      // Straight over an edge the way is across it, to its right, which is outwards.
      const len = Math.sqrt(len2) || 1;
      const away: [number, number] = d > 1e-9 && !left ? [(x - px) / d, (y - py) / d] : [ey / len, -ex / len];
      best = { margin: d, pivot: [px, py], towards: len2 > 0 || d > 1e-9 ? away : [1, 0] };
    }
  }
  const f = best as Footing;
  return inside ? f : { ...f, margin: -f.margin };
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
      return { positions: p, turned_rad: turned, rolled_rad: rolled, footing_m: f.margin, steady, turn };
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
