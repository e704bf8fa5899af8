import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Setting } from './setting.ts';

/** A piece moved as a rigid body. */

export type Vec = readonly [number, number, number];

/** Axis-angle rotation of all points about a point (Rodrigues). */
export const rotate = (p: Float64Array, centre: Vec, axis: Vec, angle: number): void => {
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
export const turnTo = (p: Float64Array, setting: Setting): void => {
  const o: Vec = [0, 0, 0];
  if (setting.attitude === 'rim down') rotate(p, o, [1, 0, 0], Math.PI);
  if (setting.attitude === 'on its side') {
    // The meridian at `turn` comes to the bottom: first to +x, then the axis tips over towards it.
    rotate(p, o, [0, 0, 1], (-setting.turn_deg * Math.PI) / 180);
    rotate(p, o, [0, 1, 0], Math.PI / 2);
  }
  if (setting.attitude === 'leaning') {
    // Likewise the meridian at `turn` is the one that goes down, towards +x.
    rotate(p, o, [0, 0, 1], (-setting.turn_deg * Math.PI) / 180);
    rotate(p, o, [0, 1, 0], (setting.lean_deg * Math.PI) / 180);
  }
};

/** Where the weight of a wall has its centre, m. */
export const weightCentre = (wall: WallMesh, p: Float64Array): Vec => {
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
