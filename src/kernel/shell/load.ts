import { B } from '../numerics/block-matrix.ts';
import type { RateLaw, SoftShape } from './soft-shape.ts';
import type { ShellSystem } from './system.ts';

/** What pulls and presses on the nodes, and how much of the mass each carries. */
export interface Load {
  /** 6 × nodes, N, global axes, mesh order. */
  readonly force: Float64Array;
  /** One a node, kg. */
  readonly mass: Float64Array;
  readonly mass_kg: number;
  /** Sum of the forces' sizes, N. */
  readonly total_N: number;
}

/** Weight of each triangle shared by its corners, and pressure along the outward normals. */
export const loadOn = (s: ShellSystem, shape: SoftShape, law: RateLaw): Load => {
  const force = new Float64Array(B * s.nodes);
  const mass = new Float64Array(s.nodes);
  let all = 0;
  for (let t = 0; t < shape.mass_kg.length; t++) {
    const m = shape.mass_kg[t] / 3;
    all += 3 * m;
    for (let c = 0; c < 3; c++) {
      const n = s.triangles[3 * t + c];
      force[B * n + 2] -= m * law.gravity_m_s2;
      mass[n] += m;
    }
  }
  if (law.pressure_Pa !== 0) addPressure(force, shape.positions, s.triangles, law.pressure_Pa);
  let total = 0;
  for (const f of force) total += Math.abs(f);
  return { force, mass, mass_kg: all, total_N: total };
};

/** Adds a third of pressure × area along the normal to each corner of each triangle. */
const addPressure = (
  force: Float64Array,
  p: Float64Array,
  triangles: Uint32Array,
  pressure_Pa: number,
): void => {
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    const u = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const v = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const k = pressure_Pa / 6;
    for (const n of [2 * a, 2 * b, 2 * c]) {
      force[n] += k * (u[1] * v[2] - u[2] * v[1]);
      force[n + 1] += k * (u[2] * v[0] - u[0] * v[2]);
      force[n + 2] += k * (u[0] * v[1] - u[1] * v[0]);
    }
  }
};
