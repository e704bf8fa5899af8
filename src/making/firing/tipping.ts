/**
 * Falling over against sinking: how much of the way a piece moves, its drift aside, is turning as one rigid body about
 * a level axis (least squares over the nodes).
 */

/** More than this, and what happens is a fall and not a collapse. */
const TIPPING = 0.6;

/** Solves a symmetric 3 × 3 system by Cramer's rule. */
const solve3 = (m: readonly number[], b: readonly number[]): number[] => {
  const det = (a: readonly number[]): number =>
    a[0] * (a[4] * a[8] - a[5] * a[7]) -
    a[1] * (a[3] * a[8] - a[5] * a[6]) +
    a[2] * (a[3] * a[7] - a[4] * a[6]);
  const whole = det(m) || 1e-300;
  return [0, 1, 2].map((c) => det(m.map((x, i) => (i % 3 === c ? b[(i / 3) | 0] : x))) / whole);
};

/**
 * Share of the motion, 0 to 1, that is level-axis turning.
 * @param positions 3 × nodes, m
 * @param rates 6 × nodes: velocity (and rotation rate, not used here)
 */
export const tippingShare = (positions: Float64Array, rates: Float64Array): number => {
  const n = positions.length / 3;
  const x = [0, 0, 0];
  const v = [0, 0, 0];
  for (let i = 0; i < n; i++)
    for (let c = 0; c < 3; c++) {
      x[c] += positions[3 * i + c] / n;
      v[c] += rates[6 * i + c] / n;
    }
  const inertia = new Array<number>(9).fill(0);
  const turning = [0, 0, 0];
  let all = 0;
  const each = (visit: (r: readonly number[], u: readonly number[]) => void): void => {
    for (let i = 0; i < n; i++)
      visit(
        [0, 1, 2].map((c) => positions[3 * i + c] - x[c]),
        [0, 1, 2].map((c) => rates[6 * i + c] - v[c]),
      );
  };
  each((r, u) => {
    const r2 = r[0] ** 2 + r[1] ** 2 + r[2] ** 2;
    for (let a = 0; a < 3; a++)
      for (let b = 0; b < 3; b++) inertia[3 * a + b] += (a === b ? r2 : 0) - r[a] * r[b];
    turning[0] += r[1] * u[2] - r[2] * u[1];
    turning[1] += r[2] * u[0] - r[0] * u[2];
    turning[2] += r[0] * u[1] - r[1] * u[0];
    all += u[0] ** 2 + u[1] ** 2 + u[2] ** 2;
  });
  const w = solve3(inertia, turning);
  let level = 0;
  each((r) => {
    level += (w[1] * r[2]) ** 2 + (w[0] * r[2]) ** 2 + (w[0] * r[1] - w[1] * r[0]) ** 2;
  });
  return all > 0 ? Math.min(1, level / all) : 0;
};

export const tipsOver = (positions: Float64Array, rates: Float64Array): boolean =>
  tippingShare(positions, rates) > TIPPING;
