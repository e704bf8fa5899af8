import type { Mesh } from './mesh.ts';

type Vector = readonly [number, number, number];

/** Squared distance of p from a triangle's nearest point, and that point's shares of the corners. */
interface Near {
  readonly distance2: number;
  readonly shares: Vector;
}

const minus = (p: ArrayLike<number>, i: number, q: ArrayLike<number>, j: number): Vector => [
  p[i] - q[j],
  p[i + 1] - q[j + 1],
  p[i + 2] - q[j + 2],
];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/** Shares of a point's foot on a triangle's plane, those below zero cut off: near enough to its nearest point. */
const nearest = (mesh: Mesh, t: number, p: ArrayLike<number>, i: number): Near => {
  const { positions: x, triangles } = mesh;
  const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
  const u = minus(x, b, x, a);
  const v = minus(x, c, x, a);
  const w = minus(p, i, x, a);
  const [uu, uv, vv, wu, wv] = [dot(u, u), dot(u, v), dot(v, v), dot(w, u), dot(w, v)];
  const det = uu * vv - uv * uv || 1e-300;
  const raw = [(vv * wu - uv * wv) / det, (uu * wv - uv * wu) / det];
  const kept = [1 - raw[0] - raw[1], raw[0], raw[1]].map((s) => Math.max(0, s));
  const sum = kept[0] + kept[1] + kept[2];
  const shares: Vector = [kept[0] / sum, kept[1] / sum, kept[2] / sum];
  let distance2 = 0;
  for (let k = 0; k < 3; k++) {
    const foot = shares[0] * x[a + k] + shares[1] * x[b + k] + shares[2] * x[c + k];
    distance2 += (p[i + k] - foot) ** 2;
  }
  return { distance2, shares };
};

const trianglesAt = (mesh: Mesh): number[][] => {
  const at: number[][] = Array.from({ length: mesh.positions.length / 3 }, () => []);
  for (let i = 0; i < mesh.triangles.length; i++) at[mesh.triangles[i]].push(i - (i % 3));
  return at;
};

/**
 * Carries values (three a node) of one mesh to other points near it, linear over the triangle that is nearest among
 * those round the nearest node.
 */
export const onNearest = (mesh: Mesh, values: Float64Array, points: Float64Array): Float64Array => {
  const { positions: x, triangles } = mesh;
  const round = trianglesAt(mesh);
  const out = new Float64Array(points.length);
  for (let i = 0; i < points.length; i += 3) {
    let node = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let n = 0; n < x.length; n += 3) {
      const d = (x[n] - points[i]) ** 2 + (x[n + 1] - points[i + 1]) ** 2 + (x[n + 2] - points[i + 2]) ** 2;
      if (d < least && round[n / 3].length > 0) {
        least = d;
        node = n / 3;
      }
    }
    let best: Near | undefined;
    let corner = 0;
    for (const t of round[node]) {
      const near = nearest(mesh, t, points, i);
      if (!best || near.distance2 < best.distance2) {
        best = near;
        corner = t;
      }
    }
    if (!best) continue;
    for (let k = 0; k < 3; k++)
      for (let c = 0; c < 3; c++) out[i + k] += best.shares[c] * values[3 * triangles[corner + c] + k];
  }
  return out;
};
