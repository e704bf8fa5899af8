import { B } from '../numerics/block-matrix.ts';
import type { SoftShape } from './soft-shape.ts';

/**
 * Takes out level sliding and turning about the vertical: on a frictionless shelf nothing pushes a piece sideways, so
 * what there is of it is left by the solver. (Weighted by mass, as the drag is, this is what the drag would reach.)
 */
export const stopDrift = (triangles: Uint32Array, shape: SoftShape, rates: Float64Array): void => {
  const p = shape.positions;
  const nodes = p.length / 3;
  const mass = new Float64Array(nodes);
  for (let t = 0; t < triangles.length; t++) mass[triangles[t]] += shape.mass_kg[(t / 3) | 0] / 3;
  let total = 0;
  const mean = [0, 0, 0, 0];
  for (let n = 0; n < nodes; n++) {
    total += mass[n];
    mean[0] += mass[n] * p[3 * n];
    mean[1] += mass[n] * p[3 * n + 1];
    mean[2] += mass[n] * rates[B * n];
    mean[3] += mass[n] * rates[B * n + 1];
  }
  const [cx, cy, vx, vy] = mean.map((m) => m / total);
  let spin = 0;
  let inertia = 0;
  for (let n = 0; n < nodes; n++) {
    const x = p[3 * n] - cx;
    const y = p[3 * n + 1] - cy;
    spin += mass[n] * (x * (rates[B * n + 1] - vy) - y * (rates[B * n] - vx));
    inertia += mass[n] * (x * x + y * y);
  }
  const w = spin / inertia;
  for (let n = 0; n < nodes; n++) {
    rates[B * n] -= vx - w * (p[3 * n + 1] - cy);
    rates[B * n + 1] -= vy + w * (p[3 * n] - cx);
    rates[B * n + 5] -= w;
  }
};
