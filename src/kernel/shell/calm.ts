import { B } from '../numerics/block-matrix.ts';

/**
 * What of a wall's motion is not sliding, rolling or tipping: its speeds without the rigid part (mass-weighted fit of
 * translation and turning), but for the rigid rise or fall, which a sinking piece has in any case. The drag that tames
 * rigid motion leaves this alone.
 * @param positions 3 × nodes @param rates 6 × nodes @param mass one a node @returns 3 × nodes
 */
export const calmPart = (positions: Float64Array, rates: Float64Array, mass: Float64Array): Float64Array => {
  const nodes = mass.length;
  let total = 0;
  const centre = [0, 0, 0];
  const mean = [0, 0, 0];
  for (let n = 0; n < nodes; n++) {
    total += mass[n];
    for (let c = 0; c < 3; c++) {
      centre[c] += mass[n] * positions[3 * n + c];
      mean[c] += mass[n] * rates[B * n + c];
    }
  }
  for (let c = 0; c < 3; c++) {
    centre[c] /= total;
    mean[c] /= total;
  }
  // Angular momentum and inertia about the centre.
  const spin = [0, 0, 0];
  let [xx, yy, zz, xy, yz, zx] = [0, 0, 0, 0, 0, 0];
  for (let n = 0; n < nodes; n++) {
    const [x, y, z] = [0, 1, 2].map((c) => positions[3 * n + c] - centre[c]);
    const [u, v, w] = [0, 1, 2].map((c) => rates[B * n + c] - mean[c]);
    const m = mass[n];
    spin[0] += m * (y * w - z * v);
    spin[1] += m * (z * u - x * w);
    spin[2] += m * (x * v - y * u);
    xx += m * x * x;
    yy += m * y * y;
    zz += m * z * z;
    xy += m * x * y;
    yz += m * y * z;
    zx += m * z * x;
  }
  const [wx, wy, wz] = solve3([yy + zz, zz + xx, xx + yy], [-xy, -yz, -zx], spin);
  const out = new Float64Array(3 * nodes);
  for (let n = 0; n < nodes; n++) {
    const [x, y, z] = [0, 1, 2].map((c) => positions[3 * n + c] - centre[c]);
    out[3 * n] = rates[B * n] - mean[0] - (wy * z - wz * y);
    out[3 * n + 1] = rates[B * n + 1] - mean[1] - (wz * x - wx * z);
    out[3 * n + 2] = rates[B * n + 2] - (wx * y - wy * x);
  }
  return out;
};

/** Symmetric 3 × 3: diagonal, then 01 12 02; Cramer's rule. A rod's own axis has no inertia and gets no turning. */
const solve3 = (
  d: readonly number[],
  [a, b, c]: readonly number[],
  r: readonly number[],
): [number, number, number] => {
  const tiny = 1e-12 * (d[0] + d[1] + d[2]);
  const [p, q, s] = d.map((v) => v + tiny);
  const det = p * (q * s - b * b) - a * (a * s - b * c) + c * (a * b - q * c);
  return [
    (r[0] * (q * s - b * b) - a * (r[1] * s - b * r[2]) + c * (r[1] * b - q * r[2])) / det,
    (p * (r[1] * s - b * r[2]) - r[0] * (a * s - b * c) + c * (a * r[2] - r[1] * c)) / det,
    (p * (q * r[2] - r[1] * b) - a * (a * r[2] - r[1] * c) + r[0] * (a * b - q * c)) / det,
  ];
};
