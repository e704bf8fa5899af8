import type { WallMesh } from './mesh.ts';

export type Vector = readonly [number, number, number];

/** A run of the mid-surface in the plane of the cut. */
export interface CutLine {
  /** x, y, z of each point, m. */
  readonly points: Float64Array;
  /** Wall at each point at right angles to the mid-surface, m. */
  readonly thickness_m: Float64Array;
  /** In the plane, from the mid line to the outer face as the plane meets it: x, y, z a point, m. */
  readonly half: Float64Array;
  /** Each point lies on an edge: first node, second node, share of the way; carries any other value of the nodes. */
  readonly from: Uint32Array;
  readonly to: Uint32Array;
  readonly share: Float64Array;
  /** The last point joins the first. */
  readonly closed: boolean;
}

/** A plane more slanted to the wall than this (sine) is drawn as if it were this slanted. */
const LEAST_SLANT = 0.2;

interface Crossing {
  readonly a: number;
  readonly b: number;
  readonly share: number;
  readonly next: number[];
  /** Sum of the unit normals of the two triangles. */
  readonly normal: [number, number, number];
}

/** Height of each node over the plane; nodes in the plane count as just above, so that every cut meets edges only. */
const heights = (p: Float64Array, point: Vector, normal: Vector): Float64Array => {
  const out = new Float64Array(p.length / 3);
  for (let n = 0; n < out.length; n++) {
    const d =
      (p[3 * n] - point[0]) * normal[0] +
      (p[3 * n + 1] - point[1]) * normal[1] +
      (p[3 * n + 2] - point[2]) * normal[2];
    out[n] = Math.abs(d) < 1e-9 ? 1e-9 : d;
  }
  return out;
};

const unitNormal = (p: Float64Array, i: number, j: number, k: number): [number, number, number] => {
  const [a, b, c] = [3 * i, 3 * j, 3 * k];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const n: [number, number, number] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const l = Math.hypot(...n) || 1;
  return [n[0] / l, n[1] / l, n[2] / l];
};

const crossingsOf = (wall: WallMesh, d: Float64Array): Map<number, Crossing> => {
  const { positions: p, triangles: t } = wall;
  const found = new Map<number, Crossing>();
  const meet = (a: number, b: number): number => {
    const [low, high] = a < b ? [a, b] : [b, a];
    const key = low * d.length + high;
    if (!found.has(key))
      found.set(key, { a: low, b: high, share: d[low] / (d[low] - d[high]), next: [], normal: [0, 0, 0] });
    return key;
  };
  for (let i = 0; i < t.length; i += 3) {
    const ends: number[] = [];
    for (let k = 0; k < 3; k++) {
      const [a, b] = [t[i + k], t[i + ((k + 1) % 3)]];
      if (d[a] < 0 !== d[b] < 0) ends.push(meet(a, b));
    }
    if (ends.length !== 2) continue;
    const n = unitNormal(p, t[i], t[i + 1], t[i + 2]);
    for (const [here, there] of [ends, [ends[1], ends[0]]]) {
      const c = found.get(here) as Crossing;
      c.next.push(there);
      for (let k = 0; k < 3; k++) c.normal[k] += n[k];
    }
  }
  return found;
};

const lineOf = (wall: WallMesh, run: readonly Crossing[], normal: Vector, closed: boolean): CutLine => {
  const n = run.length;
  const points = new Float64Array(3 * n);
  const half = new Float64Array(3 * n);
  const thickness_m = new Float64Array(n);
  run.forEach((c, i) => {
    const mix = (x: ArrayLike<number>, a: number, b: number): number => x[a] + c.share * (x[b] - x[a]);
    for (let k = 0; k < 3; k++) points[3 * i + k] = mix(wall.positions, 3 * c.a + k, 3 * c.b + k);
    thickness_m[i] = mix(wall.thickness_m, c.a, c.b);
    // The wall's normal, laid into the plane; its length there is how squarely the plane cuts the wall.
    const whole = Math.hypot(...c.normal) || 1;
    const off = (c.normal[0] * normal[0] + c.normal[1] * normal[1] + c.normal[2] * normal[2]) / whole;
    const flat = [0, 1, 2].map((k) => c.normal[k] / whole - off * normal[k]);
    const slant = Math.hypot(...flat) || 1;
    for (let k = 0; k < 3; k++)
      half[3 * i + k] = ((flat[k] / slant) * 0.5 * thickness_m[i]) / Math.max(slant, LEAST_SLANT);
  });
  return {
    points,
    thickness_m,
    half,
    from: Uint32Array.from(run, (c) => c.a),
    to: Uint32Array.from(run, (c) => c.b),
    share: Float64Array.from(run, (c) => c.share),
    closed,
  };
};

/**
 * Cuts a wall by any plane (a deformed piece, or one lying on its side, as well).
 * @param point a point of the plane, m
 * @param normal its unit normal
 * @returns the mid line's connected runs, open ones first, each with the wall as the plane meets it
 */
export const sectionOf = (wall: WallMesh, point: Vector, normal: Vector): CutLine[] => {
  const crossings = crossingsOf(wall, heights(wall.positions, point, normal));
  const used = new Set<number>();
  const lines: CutLine[] = [];
  const ends = [...crossings].filter(([, c]) => c.next.length === 1).map(([key]) => key);
  for (const start of [...ends, ...crossings.keys()]) {
    if (used.has(start)) continue;
    const run: Crossing[] = [];
    let last = start;
    for (let key: number | undefined = start; key !== undefined; ) {
      used.add(key);
      last = key;
      const c = crossings.get(key) as Crossing;
      run.push(c);
      key = c.next.find((n) => !used.has(n));
    }
    const closed = run.length > 2 && (crossings.get(last) as Crossing).next.includes(start);
    if (run.length > 1) lines.push(lineOf(wall, run, normal, closed));
  }
  return lines;
};

/** The vertical plane through the z axis at an angle from +x: a point and its unit normal. */
export const planeThroughAxis = (angle_rad: number): readonly [Vector, Vector] => [
  [0, 0, 0],
  [-Math.sin(angle_rad), Math.cos(angle_rad), 0],
];
