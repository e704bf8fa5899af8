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

/**
 * Area on which the piece rests, m²: whole triangles whose corners all rest, and for a wall standing on an edge
 * the length of that edge times the wall.
 */
export const contactArea = (
  positions: Float64Array,
  triangles: Uint32Array,
  wall_m: Float64Array,
  resting: Uint8Array,
): number => {
  let area = 0;
  const edges = new Map<string, [number, number]>();
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    if (resting[a] && resting[b] && resting[c]) {
      const [u, v] = [b, c].map((n) => [0, 1, 2].map((k) => positions[3 * n + k] - positions[3 * a + k]));
      area +=
        0.5 * Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
    }
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ]) {
      const key = p < q ? `${p},${q}` : `${q},${p}`;
      if (edges.has(key)) edges.delete(key);
      else edges.set(key, [p, q]);
    }
  }
  for (const [p, q] of edges.values())
    if (resting[p] && resting[q])
      area +=
        0.5 *
        (wall_m[p] + wall_m[q]) *
        Math.hypot(...[0, 1, 2].map((k) => positions[3 * p + k] - positions[3 * q + k]));
  return area;
};
