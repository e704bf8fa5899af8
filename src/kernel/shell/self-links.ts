import { APART, FACING } from './contact-tolerances.ts';
import type { Link } from './link.ts';
import type { Skin } from './supports.ts';

/**
 * Links that keep a wall from passing through itself: each node against the nearest triangle whose skin faces its own
 * and that was not its neighbour at the start. Both sides' nodes are asked, so neither goes through the other.
 */
export interface Wall {
  readonly start: Float64Array;
  readonly triangles: Uint32Array;
}

/** Middle of triangle t, written to `out`. */
const middle = (p: Float64Array, triangles: Uint32Array, t: number, out: Float64Array): void => {
  for (let c = 0; c < 3; c++)
    out[c] =
      (p[3 * triangles[3 * t] + c] + p[3 * triangles[3 * t + 1] + c] + p[3 * triangles[3 * t + 2] + c]) / 3;
};

/** Triangles by the cells of a grid their middles lie in. */
interface Cells {
  readonly size_m: number;
  readonly of: Map<number, number[]>;
}

const keyOf = (x: number, y: number, z: number): number =>
  (x & 0x3ff) * 0x100000 + (y & 0x3ff) * 0x400 + (z & 0x3ff);

const cellsOf = (p: Float64Array, triangles: Uint32Array, size_m: number): Cells => {
  const of = new Map<number, number[]>();
  const m = new Float64Array(3);
  for (let t = 0; t < triangles.length / 3; t++) {
    middle(p, triangles, t, m);
    const k = keyOf(Math.floor(m[0] / size_m), Math.floor(m[1] / size_m), Math.floor(m[2] / size_m));
    const list = of.get(k);
    if (list) list.push(t);
    else of.set(k, [t]);
  }
  return { size_m, of };
};

/** Unit normals of triangles, 3 × triangles, and the longest side of any. */
const facesOf = (p: Float64Array, triangles: Uint32Array): { normals: Float64Array; longest_m: number } => {
  const normals = new Float64Array(triangles.length);
  let longest = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const length = Math.hypot(...n) || 1;
    for (let k = 0; k < 3; k++) normals[t + k] = n[k] / length;
    longest = Math.max(longest, Math.hypot(...u), Math.hypot(...v));
  }
  return { normals, longest_m: longest };
};

/**
 * Nearest point of triangle (a, b, c) to p as weights of the corners (C. Ericson, "Real-Time Collision
 * Detection" (2005), 5.1.5: by the regions of the plane around the triangle).
 */
export const nearestOn = (
  x: Float64Array,
  p: number,
  a: number,
  b: number,
  c: number,
): readonly [number, number, number] => {
  const d = (i: number, j: number, k: number, l: number): number =>
    (x[j] - x[i]) * (x[l] - x[k]) +
    (x[j + 1] - x[i + 1]) * (x[l + 1] - x[k + 1]) +
    (x[j + 2] - x[i + 2]) * (x[l + 2] - x[k + 2]);
  const d1 = d(a, b, a, p);
  const d2 = d(a, c, a, p);
  if (d1 <= 0 && d2 <= 0) return [1, 0, 0];
  const d3 = d(a, b, b, p);
  const d4 = d(a, c, b, p);
  if (d3 >= 0 && d4 <= d3) return [0, 1, 0];
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return [d3 / (d3 - d1), d1 / (d1 - d3), 0];
  const d5 = d(a, b, c, p);
  const d6 = d(a, c, c, p);
  if (d6 >= 0 && d5 <= d6) return [0, 0, 1];
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return [d6 / (d6 - d2), 0, d2 / (d2 - d6)];
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const w = (d4 - d3) / (d4 - d3 + (d5 - d6));
    return [0, 1 - w, w];
  }
  const sum = va + vb + vc;
  return [va / sum, vb / sum, vc / sum];
};

/**
 * @param reach_m gaps up to this are watched @param firstKey keys from here on are these links'
 */
export const selfLinks = (skin: Skin, wall: Wall, reach_m: number, firstKey: number): Link[] => {
  const { positions: p, wall_m } = skin;
  const { triangles, start } = wall;
  let thickest = 0;
  for (const h of wall_m) thickest = Math.max(thickest, h);
  const faces = facesOf(p, triangles);
  const far = thickest + reach_m;
  const cells = cellsOf(p, triangles, far + 0.67 * faces.longest_m);
  const links: Link[] = [];
  for (let n = 0; n < wall_m.length; n++) {
    const best = nearestFacing(n, skin, start, triangles, faces.normals, cells, far);
    if (!best || best.gap > reach_m) continue;
    const corners = [0, 1, 2].map((k) => triangles[3 * best.triangle + k]);
    links.push({
      key: firstKey + n,
      nodes: [n, ...corners],
      direction: [...best.direction, ...best.weights.flatMap((w) => best.direction.map((d) => -w * d))],
      gap_m: best.gap,
      opening_m_s: 0,
      on: -1,
    });
  }
  return links;
};

interface Facing {
  readonly triangle: number;
  readonly weights: readonly number[];
  readonly direction: readonly number[];
  readonly gap: number;
}

const m = new Float64Array(3);

const nearestFacing = (
  n: number,
  skin: Skin,
  start: Float64Array,
  triangles: Uint32Array,
  faces: Float64Array,
  cells: Cells,
  far: number,
): Facing | undefined => {
  const { positions: p, normals, wall_m } = skin;
  const at = (c: number): number => Math.floor(p[3 * n + c] / cells.size_m);
  const [cx, cy, cz] = [at(0), at(1), at(2)];
  let best: Facing | undefined;
  for (let i = 0; i < 27; i++) {
    const list = cells.of.get(
      keyOf(cx + (i % 3) - 1, cy + (Math.floor(i / 3) % 3) - 1, cz + Math.floor(i / 9) - 1),
    );
    for (const t of list ?? []) {
      const facing =
        normals[3 * n] * faces[3 * t] +
        normals[3 * n + 1] * faces[3 * t + 1] +
        normals[3 * n + 2] * faces[3 * t + 2];
      if (facing > FACING) continue;
      const [a, b, c] = [triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]];
      if (a === n || b === n || c === n) continue;
      const h = (wall_m[a] + wall_m[b] + wall_m[c]) / 3;
      middle(start, triangles, t, m);
      const apart = Math.hypot(m[0] - start[3 * n], m[1] - start[3 * n + 1], m[2] - start[3 * n + 2]);
      if (apart < APART * 0.5 * (h + wall_m[n])) continue;
      const found = gapBetween(p, n, [a, b, c], faces.subarray(3 * t, 3 * t + 3), normals, wall_m[n], h, far);
      if (found && (!best || found.gap < best.gap)) best = { ...found, triangle: t };
    }
  }
  return best;
};

/** Gap of the skins of node n and a triangle, along the line between their nearest mid-surface points. */
const gapBetween = (
  p: Float64Array,
  n: number,
  corners: readonly [number, number, number],
  face: Float64Array,
  normals: Float64Array,
  wallN: number,
  wallT: number,
  far: number,
): Omit<Facing, 'triangle'> | undefined => {
  const [a, b, c] = corners;
  const weights = nearestOn(p, 3 * n, 3 * a, 3 * b, 3 * c);
  const d = [0, 1, 2].map(
    (k) => p[3 * n + k] - weights[0] * p[3 * a + k] - weights[1] * p[3 * b + k] - weights[2] * p[3 * c + k],
  );
  const distance = Math.hypot(...d);
  if (distance > far || distance < 1e-9) return undefined;
  const direction = d.map((v) => v / distance);
  const across = (v: Float64Array, o: number): number =>
    Math.abs(direction[0] * v[o] + direction[1] * v[o + 1] + direction[2] * v[o + 2]);
  const gap = distance - 0.5 * (wallN * across(normals, 3 * n) + wallT * across(face, 0));
  return { weights, direction, gap };
};
