/**
 * Small dense problems behind contact: Cholesky, inverse, and the least energy under lower bounds.
 * Matrices are row-major n × n in Float64Array.
 */

/** Cholesky factor of the rows and columns `pick` of a; undefined where not positive definite. */
const choleskyOf = (a: Float64Array, n: number, pick: readonly number[]): Float64Array | undefined => {
  const m = pick.length;
  const l = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j <= i; j++) {
      let s = a[pick[i] * n + pick[j]];
      for (let k = 0; k < j; k++) s -= l[i * m + k] * l[j * m + k];
      if (i === j) {
        if (!(s > 0)) return undefined;
        l[i * m + i] = Math.sqrt(s);
      } else l[i * m + j] = s / l[j * m + j];
    }
  return l;
};

const solveCholesky = (l: Float64Array, m: number, b: Float64Array): void => {
  for (let i = 0; i < m; i++) {
    let s = b[i];
    for (let k = 0; k < i; k++) s -= l[i * m + k] * b[k];
    b[i] = s / l[i * m + i];
  }
  for (let i = m - 1; i >= 0; i--) {
    b[i] /= l[i * m + i];
    for (let k = 0; k < i; k++) b[k] -= l[i * m + k] * b[i];
  }
};

const all = (n: number): number[] => Array.from({ length: n }, (_, i) => i);

/** Inverse of a symmetric positive definite matrix, or undefined. */
export const inverse = (a: Float64Array, n: number): Float64Array | undefined => {
  const l = choleskyOf(a, n, all(n));
  if (!l) return undefined;
  const out = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    column.fill(0);
    column[j] = 1;
    solveCholesky(l, n, column);
    for (let i = 0; i < n; i++) out[i * n + j] = column[i];
  }
  return out;
};

export interface BoundedAnswer {
  readonly x: Float64Array;
  /** 1 where x stands at its bound. */
  readonly atBound: Uint8Array;
}

/**
 * Least ½·x·A·x - b·x with x ≥ low, A symmetric positive definite: block principal pivoting with the single-exchange
 * safeguard that makes it end (J. J. Júdice, F. M. Pires, Comput. Oper. Res. 21 (1994) 587-596).
 * @param atBound first guess @returns undefined where A is not positive definite
 */
export const leastAbove = (
  a: Float64Array,
  b: Float64Array,
  low: Float64Array,
  atBound: Uint8Array,
): BoundedAnswer | undefined => {
  const n = b.length;
  const bound = atBound.slice();
  let fewest = n + 1;
  let patience = 3;
  for (let round = 0; round < 20 * n + 50; round++) {
    const free = all(n).filter((i) => !bound[i]);
    const l = choleskyOf(a, n, free);
    if (!l) return undefined;
    const x = low.slice();
    const right = Float64Array.from(free, (i) => {
      let s = b[i];
      for (let j = 0; j < n; j++) if (bound[j]) s -= a[i * n + j] * low[j];
      return s;
    });
    solveCholesky(l, free.length, right);
    free.forEach((i, k) => {
      x[i] = right[k];
    });
    const wrong: number[] = [];
    let scale = 0;
    for (let i = 0; i < n; i++) scale = Math.max(scale, Math.abs(b[i]));
    for (let i = 0; i < n; i++) {
      if (!bound[i]) {
        if (x[i] < low[i] - 1e-12 * (Math.abs(low[i]) + Math.abs(x[i]))) wrong.push(i);
        continue;
      }
      let push = -b[i];
      for (let j = 0; j < n; j++) push += a[i * n + j] * x[j];
      if (push < -1e-9 * scale) wrong.push(i);
    }
    if (wrong.length === 0) return { x, atBound: bound };
    if (wrong.length < fewest) {
      fewest = wrong.length;
      patience = 3;
    } else patience--;
    for (const i of patience >= 0 ? wrong : [wrong[wrong.length - 1]]) bound[i] = bound[i] ? 0 : 1;
  }
  return undefined;
};
