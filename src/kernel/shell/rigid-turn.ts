/**
 * The rigid motion that best carries one set of points on to another (B. K. P. Horn, "Closed-form solution of absolute
 * orientation using unit quaternions", J. Opt. Soc. Am. A 4 (1987) 629-642): the quaternion is the greatest eigenvector of a
 * symmetric 4 × 4 matrix of the points' products, found by squaring.
 */
export interface RigidTurn {
  readonly from: readonly [number, number, number];
  readonly to: readonly [number, number, number];
  readonly axis: readonly [number, number, number];
  /** 0 to π. */
  readonly angle_rad: number;
}

const middle = (p: Float64Array): [number, number, number] => {
  const sum: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < p.length; i++) sum[i % 3] += (3 * p[i]) / p.length;
  return sum;
};

const SQUARINGS = 30;

/** Greatest eigenvector of a symmetric 4 × 4 matrix whose greatest eigenvalue is also made the greatest in size. */
const greatest = (m: readonly (readonly number[])[]): readonly number[] => {
  const size = Math.hypot(...m.flat()) || 1;
  let a = m.map((row, i) => row.map((x, j) => x / size + (i === j ? 1 : 0)));
  for (let k = 0; k < SQUARINGS; k++) {
    const next = a.map((row) => a.map((_, j) => row.reduce((s, x, q) => s + x * a[q][j], 0)));
    const scale = Math.hypot(...next.flat());
    a = next.map((row) => row.map((x) => x / scale));
  }
  const column = a.reduce((best, row, i) => (Math.abs(row[i]) > Math.abs(a[best][best]) ? i : best), 0);
  const v = a.map((row) => row[column]);
  const length = Math.hypot(...v);
  return v.map((x) => x / length);
};

export const rigidTurn = (a: Float64Array, b: Float64Array): RigidTurn => {
  const from = middle(a);
  const to = middle(b);
  const s = new Float64Array(9);
  for (let n = 0; n < a.length; n += 3)
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) s[3 * i + j] += (a[n + i] - from[i]) * (b[n + j] - to[j]);
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = s;
  let [w, x, y, z] = greatest([
    [xx + yy + zz, yz - zy, zx - xz, xy - yx],
    [yz - zy, xx - yy - zz, xy + yx, zx + xz],
    [zx - xz, xy + yx, yy - xx - zz, yz + zy],
    [xy - yx, zx + xz, yz + zy, zz - xx - yy],
  ]);
  if (w < 0) [w, x, y, z] = [-w, -x, -y, -z];
  const sine = Math.hypot(x, y, z);
  const axis = sine > 0 ? ([x / sine, y / sine, z / sine] as const) : ([0, 0, 1] as const);
  return { from, to, axis, angle_rad: 2 * Math.atan2(sine, w) };
};

/** `v` turned about a unit axis, written at `out[at]` (Rodrigues). */
export const turnAbout = (
  axis: readonly [number, number, number],
  angle_rad: number,
  v: readonly [number, number, number],
  out: Float64Array,
  at: number,
): void => {
  const [c, s] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  const [ux, uy, uz] = axis;
  const along = (1 - c) * (ux * v[0] + uy * v[1] + uz * v[2]);
  out[at] = c * v[0] + s * (uy * v[2] - uz * v[1]) + along * ux;
  out[at + 1] = c * v[1] + s * (uz * v[0] - ux * v[2]) + along * uy;
  out[at + 2] = c * v[2] + s * (ux * v[1] - uy * v[0]) + along * uz;
};
