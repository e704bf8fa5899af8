import type { WallMesh } from './mesh.ts';

export interface SheetMass {
  readonly area_m2: number;
  /** Area times thickness: the clay the wall is made of. */
  readonly volume_m3: number;
  /** Centre of that volume, m. */
  readonly centre_m: readonly [number, number, number];
}

/** Area, clay volume and centre of a wall, thickness varying linearly over each triangle (integrated exactly). */
export const sheetMass = ({ positions: p, triangles: t, thickness_m: h }: WallMesh): SheetMass => {
  let [area, volume] = [0, 0];
  const moment = [0, 0, 0];
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const tri = 0.5 * Math.sqrt(nx * nx + ny * ny + nz * nz);
    const [ha, hb, hc] = [h[t[i]], h[t[i + 1]], h[t[i + 2]]];
    const sum = ha + hb + hc;
    area += tri;
    volume += (tri * sum) / 3;
    // ∫ h x over a triangle, both linear: area/12 · (Σh Σx + Σ h x).
    for (let k = 0; k < 3; k++)
      moment[k] +=
        (tri / 12) * (sum * (p[a + k] + p[b + k] + p[c + k]) + ha * p[a + k] + hb * p[b + k] + hc * p[c + k]);
  }
  return {
    area_m2: area,
    volume_m3: volume,
    centre_m: [moment[0] / volume, moment[1] / volume, moment[2] / volume],
  };
};
