/** What sagging did to a piece, read from its shape as set and as fired. */

/** How far each node moved beyond shrinkage, m: |fired - L·dry|, both on the same shelf. */
export const sagOf = (dry: Float64Array, fired: Float64Array, scale: number): Float64Array => {
  const out = new Float64Array(dry.length / 3);
  for (let n = 0; n < out.length; n++)
    out[n] = Math.hypot(
      fired[3 * n] - scale * dry[3 * n],
      fired[3 * n + 1] - scale * dry[3 * n + 1],
      fired[3 * n + 2] - scale * dry[3 * n + 2],
    );
  return out;
};

export const greatest = (values: Float64Array): number => values.reduce((a, b) => Math.max(a, b), 0);

/** How far the highest point came down beyond shrinkage, m. */
export const topDrop = (dry: Float64Array, fired: Float64Array, scale: number): number => {
  let before = 0;
  let after = 0;
  for (let i = 2; i < dry.length; i += 3) {
    before = Math.max(before, scale * dry[i]);
    after = Math.max(after, fired[i]);
  }
  return before - after;
};

/** The most any of these nodes came down beyond shrinkage, m. */
export const mostDrop = (
  nodes: ArrayLike<number>,
  dry: Float64Array,
  fired: Float64Array,
  scale: number,
): number => {
  let most = 0;
  for (let k = 0; k < nodes.length; k++) {
    const i = 3 * nodes[k] + 2;
    most = Math.max(most, scale * dry[i] - fired[i]);
  }
  return most;
};

/** Part of a triangle where a value linear over it, given at its corners, is below zero. */
const partBelow = (a: number, b: number, c: number): number => {
  const [x, y, z] = [a, b, c].sort((p, q) => p - q);
  if (z <= 0) return 1;
  if (x >= 0) return 0;
  if (y >= 0) return (x * x) / ((x - y) * (x - z));
  return 1 - (z * z) / ((z - x) * (z - y));
};

/**
 * Area on which the piece rests, m²: where the gap under its skin is less than `near_m`, and for a wall standing on
 * an edge the length of that edge times the wall.
 * @param gap_m gap under each node
 * @param ridge_m width of what stands on a ridge of the mid-surface, a turned foot ring: its bottom is flat, m
 */
export const contactArea = (
  positions: Float64Array,
  triangles: Uint32Array,
  wall_m: Float64Array,
  gap_m: Float64Array,
  near_m: number,
  ridge_m = 0,
): number => {
  let area = 0;
  const edges = new Map<string, [number, number]>();
  const lies = (n: number): boolean => gap_m[n] < near_m;
  const length = (p: number, q: number): number =>
    Math.hypot(...[0, 1, 2].map((k) => positions[3 * p + k] - positions[3 * q + k]));
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const part = partBelow(gap_m[a] - near_m, gap_m[b] - near_m, gap_m[c] - near_m);
    if (part > 0) {
      // Level extent only: what a steep wall hides above its edge is not lain on.
      const u = [positions[3 * b] - positions[3 * a], positions[3 * b + 1] - positions[3 * a + 1]];
      const v = [positions[3 * c] - positions[3 * a], positions[3 * c + 1] - positions[3 * a + 1]];
      area += 0.5 * part * Math.abs(u[0] * v[1] - u[1] * v[0]);
    }
    for (const [p, q, apex] of [
      [a, b, c],
      [b, c, a],
      [c, a, b],
    ]) {
      const key = p < q ? `${p},${q}` : `${q},${p}`;
      // A ridge is met twice, once from either side.
      if (lies(p) && lies(q) && !lies(apex) && edges.has(key)) area += ridge_m * length(p, q);
      if (edges.has(key)) edges.delete(key);
      else edges.set(key, [p, q]);
    }
  }
  for (const [p, q] of edges.values())
    if (lies(p) && lies(q)) area += 0.5 * (wall_m[p] + wall_m[q]) * length(p, q);
  return area;
};
