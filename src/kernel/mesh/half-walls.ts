import type { WallMesh } from './mesh.ts';

/**
 * The mitre is for the facets of a round wall. A sharp corner stays blunt, nearly half a wall from the node, as a
 * hand leaves it and as it meets a shelf; what the outside loses there the inside gains.
 */
const LONGEST_MITRE = 1.15;

/**
 * Half-wall vector at each node (3 × nodes, m): from the mid-surface out to the outer face, minus it to the inner.
 * Along the angle-weighted normal (G. Thürmer and C. A. Wüthrich, J. Graphics Tools 3 (1998) 43-46), lengthened
 * like a mitre so that the flat triangles around keep their thickness at right angles to themselves.
 */
export const halfWalls = ({ positions: p, triangles: t, thickness_m }: WallMesh): Float64Array => {
  const sum = new Float64Array(p.length);
  const angles = new Float64Array(thickness_m.length);
  for (let i = 0; i < t.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const a = 3 * t[i + k];
      const b = 3 * t[i + ((k + 1) % 3)];
      const c = 3 * t[i + ((k + 2) % 3)];
      const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
      const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
      const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
      const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
      if (twice === 0) continue;
      const angle = Math.atan2(twice, ux * vx + uy * vy + uz * vz);
      sum[a] += (angle * nx) / twice;
      sum[a + 1] += (angle * ny) / twice;
      sum[a + 2] += (angle * nz) / twice;
      angles[a / 3] += angle;
    }
  }
  for (let n = 0; n < angles.length; n++) {
    const length = Math.hypot(sum[3 * n], sum[3 * n + 1], sum[3 * n + 2]) || 1;
    // |Σ angle·normal| / Σ angle is the mean cosine between the node's normal and its triangles'.
    const factor = (Math.min(angles[n] / length, LONGEST_MITRE) * 0.5 * thickness_m[n]) / length;
    for (let j = 0; j < 3; j++) sum[3 * n + j] *= factor;
  }
  return sum;
};
