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

/** A plane steeper to the wall than this would draw it many times too thick; the wall is drawn at this slant at most. */
const LEAST_SLANT = 0.2;

interface Crossing {
  readonly u_m: number;
  readonly z_m: number;
  readonly thickness_m: number;
  readonly value: number;
  sumU: number;
  sumZ: number;
  readonly next: number[];
}

interface Cut {
  readonly crossings: Map<number, Crossing>;
}

const cutEdge = (
  cut: Cut,
  mesh: WallMesh,
  values: Float64Array,
  plane: Plane,
  w: Float64Array,
  a: number,
  b: number,
) => {
  const key = Math.min(a, b) * w.length + Math.max(a, b);
  if (cut.crossings.has(key)) return key;
  const t = w[a] / (w[a] - w[b]);
  const mix = (p: number, q: number): number => p + t * (q - p);
  const at = (axis: number): number => mix(mesh.positions[3 * a + axis], mesh.positions[3 * b + axis]);
  const cos = Math.cos(plane.along_rad);
  const sin = Math.sin(plane.along_rad);
  cut.crossings.set(key, {
    u_m: (at(0) - plane.x0_m) * cos + (at(1) - plane.y0_m) * sin,
    z_m: at(2),
    thickness_m: mix(mesh.thickness_m[a], mesh.thickness_m[b]),
    value: mix(values[a], values[b]),
    sumU: 0,
    sumZ: 0,
    next: [],
  });
  return key;
};

/** The triangle's outward unit normal seen in the plane; its length is how squarely the plane cuts the wall. */
const normalInPlane = (mesh: WallMesh, corners: readonly number[], plane: Plane): [number, number] => {
  const p = mesh.positions;
  const [a, b, c] = corners.map((node) => 3 * node) as [number, number, number];
  const e = [0, 1, 2].map((k) => p[b + k] - p[a + k]) as [number, number, number];
  const f = [0, 1, 2].map((k) => p[c + k] - p[a + k]) as [number, number, number];
  const n = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]] as const;
  const length = Math.hypot(...n) || 1;
  return [(n[0] * Math.cos(plane.along_rad) + n[1] * Math.sin(plane.along_rad)) / length, n[2] / length];
};

const cutTriangles = (mesh: WallMesh, values: Float64Array, plane: Plane): Cut => {
  const nodes = mesh.positions.length / 3;
  // Distance of each node from the plane; a node ON the plane is nudged off, so that every cut crosses two edges.
  const w = Float64Array.from({ length: nodes }, (_, i) => {
    const x = mesh.positions[3 * i] - plane.x0_m;
    const y = mesh.positions[3 * i + 1] - plane.y0_m;
    return y * Math.cos(plane.along_rad) - x * Math.sin(plane.along_rad) + 1.234567e-9;
  });
  const cut: Cut = { crossings: new Map() };
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    const corners = [mesh.triangles[i], mesh.triangles[i + 1], mesh.triangles[i + 2]];
    const edges = [0, 1, 2].map((k) => [corners[k], corners[(k + 1) % 3]] as const);
    const crossed = edges.filter(([a, b]) => w[a] < 0 !== w[b] < 0);
    if (crossed.length !== 2) continue;
    const [from, to] = crossed.map(([a, b]) => cutEdge(cut, mesh, values, plane, w, a, b)) as [
      number,
      number,
    ];
    const p = cut.crossings.get(from)!;
    const q = cut.crossings.get(to)!;
    p.next.push(to);
    q.next.push(from);
    const [nu, nz] = normalInPlane(mesh, corners, plane);
    const length = Math.hypot(q.u_m - p.u_m, q.z_m - p.z_m);
    for (const end of [p, q]) {
      end.sumU += nu * length;
      end.sumZ += nz * length;
    }
  }
  return cut;
};

const pointOf = (c: Crossing, weight: number): CutPoint => {
  const seen = Math.hypot(c.sumU, c.sumZ) || 1;
  const slant = Math.max(seen / weight, LEAST_SLANT);
  const half_m = c.thickness_m / 2 / slant;
  return {
    u_m: c.u_m,
    z_m: c.z_m,
    halfU_m: (c.sumU / seen) * half_m,
    halfZ_m: (c.sumZ / seen) * half_m,
    value: c.value,
  };
};

const walk = (cut: Cut, start: number, used: Set<number>): CutLine => {
  const keys: number[] = [];
  for (let key: number | undefined = start; key !== undefined; ) {
    used.add(key);
    keys.push(key);
    key = cut.crossings.get(key)!.next.find((n) => !used.has(n));
  }
  if (keys.length > 2 && cut.crossings.get(keys.at(-1)!)!.next.includes(start)) keys.push(start);
  const at = (i: number): Crossing => cut.crossings.get(keys[i])!;
  return keys.map((key) => {
    const c = cut.crossings.get(key)!;
    const weight = c.next.reduce((sum, n) => {
      const other = cut.crossings.get(n)!;
      return sum + Math.hypot(other.u_m - c.u_m, other.z_m - c.z_m);
    }, 0);
    return pointOf(c, weight || at(0).thickness_m);
  });
};

/**
 * Cuts a walled mesh by a vertical plane. Metres in, metres out; `values` is one number a node, carried along.
 * The wall is as thick as the plane meets it: wider than the wall itself where the cut is slanted.
 */
export const cutSection = (mesh: WallMesh, values: Float64Array, plane: Plane): CutLine[] => {
  const cut = cutTriangles(mesh, values, plane);
  const used = new Set<number>();
  const lines: CutLine[] = [];
  const keys = [...cut.crossings.keys()];
  // Open runs first, from an end, so that none is begun in its middle; what is left then is closed.
  const ends = keys.filter((key) => cut.crossings.get(key)!.next.length === 1);
  for (const key of [...ends, ...keys]) if (!used.has(key)) lines.push(walk(cut, key, used));
  return lines.filter((line) => line.length > 1);
};
