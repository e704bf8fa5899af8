/** Areas, normals and wall thickness of a moving wall, on flat arrays. */

/** Area of each triangle in m²; `out` has one entry a triangle. */
export const triangleAreas = (p: Float64Array, triangles: Uint32Array, out: Float64Array): void => {
  for (let t = 0; t < out.length; t++) {
    const a = 3 * triangles[3 * t];
    const b = 3 * triangles[3 * t + 1];
    const c = 3 * triangles[3 * t + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    out[t] = 0.5 * Math.sqrt(nx * nx + ny * ny + nz * nz);
  }
};

/** Area-weighted unit normals of the nodes (3 × nodes), outward for counter-clockwise triangles. */
export const nodeNormals = (p: Float64Array, triangles: Uint32Array, out: Float64Array): void => {
  out.fill(0);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    for (const n of [a, b, c]) {
      out[n] += nx;
      out[n + 1] += ny;
      out[n + 2] += nz;
    }
  }
  for (let n = 0; n < out.length; n += 3) {
    const len = Math.hypot(out[n], out[n + 1], out[n + 2]) || 1;
    out[n] /= len;
    out[n + 1] /= len;
    out[n + 2] /= len;
  }
};

/** Area-weighted mean of a per-triangle value at each node. */
export const toNodes = (
  values: Float64Array,
  areas: Float64Array,
  triangles: Uint32Array,
  nodes: number,
): Float64Array => {
  const sum = new Float64Array(nodes);
  const weight = new Float64Array(nodes);
  for (let t = 0; t < values.length; t++)
    for (let c = 0; c < 3; c++) {
      const n = triangles[3 * t + c];
      sum[n] += values[t] * areas[t];
      weight[n] += areas[t];
    }
  for (let n = 0; n < nodes; n++) sum[n] /= weight[n] || 1;
  return sum;
};
