import { Matrix, QrDecomposition } from 'ml-matrix';

/**
 * Least squares that are not linear, within bounds: K. Levenberg, Q. Appl. Math. 2 (1944) 164; D. Marquardt, SIAM J. Appl.
 * Math. 11 (1963) 431, with the scaling of J. J. Moré, Lect. Notes Math. 630 (1978) 105 (the longest each column has been) and
 * the damping rule of H. B. Nielsen, IMM-REP-1999-05. Each step is solved by QR of the stretched Jacobian, not by normal
 * equations, which lose half the digits. What stands at a bound and pulls outwards is left out of the step.
 *
 * ml-levenberg-marquardt 5.1.0 was weighed: from the far start of BoxBOD (NIST) it throws instead of answering, and
 * it asks for one point at a time where a fit of a shape evaluates all nodes at once.
 */
export interface LeastSquares {
  /** Writes the residuals at x. */
  readonly residuals: (x: Float64Array, out: Float64Array) => void;
  readonly count: number;
  readonly start: ArrayLike<number>;
  readonly low?: ArrayLike<number>;
  readonly high?: ArrayLike<number>;
  /** Step for the differences, a number for each unknown; left out, a part of its size. */
  readonly step?: ArrayLike<number>;
  /** Differences to one side only: half the work, near enough for what is smooth on the scale of the step. */
  readonly oneSided?: boolean;
  readonly mostSteps?: number;
  /** Ends where a step would lower the sum by less than this part. */
  readonly leastGain?: number;
}

export interface LeastSquaresAnswer {
  readonly x: Float64Array;
  /** Sum of squares of the residuals. */
  readonly sum: number;
  /** Residuals at x. */
  readonly residuals: Float64Array;
  /** Column by column: count numbers for each unknown. */
  readonly jacobian: Float64Array;
  readonly steps: number;
  readonly ended: 'no gain left' | 'steps used up' | 'nothing to move';
}

const sumOf = (r: Float64Array): number => r.reduce((s, v) => s + v * v, 0);

/** Differences to both sides, or to one; at a bound the step is cut to what is allowed. */
const jacobianAt = (p: LeastSquares, x: Float64Array, r: Float64Array, out: Float64Array): void => {
  const m = p.count;
  const plus = new Float64Array(m);
  const minus = new Float64Array(m);
  const at = x.slice();
  for (let j = 0; j < x.length; j++) {
    const h = p.step?.[j] ?? 6e-6 * (Math.abs(x[j]) || 1);
    const up = Math.min(p.high?.[j] ?? Number.POSITIVE_INFINITY, x[j] + h);
    const oneSided = p.oneSided && up > x[j];
    const down = oneSided ? x[j] : Math.max(p.low?.[j] ?? Number.NEGATIVE_INFINITY, x[j] - h);
    at[j] = up;
    p.residuals(at, plus);
    at[j] = down;
    if (oneSided) minus.set(r);
    else p.residuals(at, minus);
    at[j] = x[j];
    const wide = up - down || 1;
    for (let i = 0; i < m; i++) out[j * m + i] = (plus[i] - minus[i]) / wide;
  }
};

const columnDot = (jacobian: Float64Array, m: number, j: number, r: Float64Array): number => {
  let s = 0;
  for (let i = 0; i < m; i++) s += jacobian[j * m + i] * r[i];
  return s;
};

/** The Jacobian's triangle R and Qᵀr: all that damped steps from one place need. */
interface Reduced {
  /** Column by column, n numbers each. */
  readonly triangle: Float64Array;
  readonly right: Float64Array;
}

/** A. S. Householder, J. ACM 5 (1958) 339: columns and residual mirrored in turn. */
const reduce = (jacobian: Float64Array, r: Float64Array, free: readonly number[]): Reduced => {
  const m = r.length;
  const n = free.length;
  const columns = free.map((j) => jacobian.slice(j * m, (j + 1) * m));
  const right = r.slice();
  for (let k = 0; k < Math.min(n, m); k++) {
    const v = columns[k];
    let square = 0;
    for (let i = k; i < m; i++) square += v[i] * v[i];
    const size = v[k] > 0 ? -Math.sqrt(square) : Math.sqrt(square);
    if (size === 0) continue;
    const head = v[k] - size;
    const scale = -1 / (size * head);
    for (const c of [...columns.slice(k + 1), right]) {
      let s = head * c[k];
      for (let i = k + 1; i < m; i++) s += v[i] * c[i];
      s *= scale;
      c[k] -= s * head;
      for (let i = k + 1; i < m; i++) c[i] -= s * v[i];
    }
    v[k] = size;
  }
  const triangle = new Float64Array(n * n);
  for (let k = 0; k < n; k++)
    for (let i = 0; i <= Math.min(k, m - 1); i++) triangle[k * n + i] = columns[k][i];
  return { triangle, right: right.slice(0, n) };
};

/** The damped step of the unknowns `free`. */
const stepOf = (
  { triangle, right }: Reduced,
  free: readonly number[],
  scale: Float64Array,
  damping: number,
): Float64Array => {
  const n = free.length;
  const a = Matrix.zeros(2 * n, n);
  const b = Matrix.zeros(2 * n, 1);
  for (let k = 0; k < n; k++) {
    b.set(k, 0, -(right[k] ?? 0));
    for (let i = 0; i <= k; i++) a.set(i, k, triangle[k * n + i]);
    a.set(n + k, k, Math.sqrt(damping) * scale[free[k]]);
  }
  return Float64Array.from(new QrDecomposition(a).solve(b).getColumn(0));
};

/**
 * Lowers the sum of squares from `start` to where it does not get lower.
 * @returns also the Jacobian there, for what wants to know how well each unknown is held
 */
export const leastSquares = (p: LeastSquares): LeastSquaresAnswer => {
  const { count: m, mostSteps = 200, leastGain = 1e-14 } = p;
  const n = p.start.length;
  const low = (j: number): number => p.low?.[j] ?? Number.NEGATIVE_INFINITY;
  const high = (j: number): number => p.high?.[j] ?? Number.POSITIVE_INFINITY;
  let x = Float64Array.from(p.start, (v, j) => Math.min(high(j), Math.max(low(j), v)));
  let r = new Float64Array(m);
  p.residuals(x, r);
  let sum = sumOf(r);
  const jacobian = new Float64Array(n * m);
  const scale = new Float64Array(n);
  let damping = 1e-3;
  let harder = 2;
  let stale = true;
  let reduced: (Reduced & { readonly free: readonly number[] }) | undefined;
  const done = (steps: number, ended: LeastSquaresAnswer['ended']): LeastSquaresAnswer => {
    if (stale) jacobianAt(p, x, r, jacobian);
    return { x, sum, residuals: r, jacobian, steps, ended };
  };
  for (let step = 0; step < mostSteps; step++) {
    if (stale) {
      jacobianAt(p, x, r, jacobian);
      for (let j = 0; j < n; j++)
        scale[j] = Math.max(
          scale[j],
          Math.sqrt(columnDot(jacobian, m, j, jacobian.subarray(j * m, (j + 1) * m))),
        );
      stale = false;
      reduced = undefined;
    }
    const free: number[] = [];
    for (let j = 0; j < n; j++) {
      const pull = -columnDot(jacobian, m, j, r);
      if (scale[j] > 0 && !(pull < 0 && x[j] <= low(j)) && !(pull > 0 && x[j] >= high(j))) free.push(j);
    }
    if (free.length === 0) return done(step, 'nothing to move');
    if (!reduced || reduced.free.length !== free.length || reduced.free.some((j, k) => j !== free[k]))
      reduced = { ...reduce(jacobian, r, free), free };
    const by = stepOf(reduced, free, scale, damping);
    const next = x.slice();
    free.forEach((j, k) => {
      next[j] = Math.min(high(j), Math.max(low(j), x[j] + by[k]));
    });
    const ahead = r.slice();
    for (const j of free) for (let i = 0; i < m; i++) ahead[i] += jacobian[j * m + i] * (next[j] - x[j]);
    const promised = sum - sumOf(ahead);
    const tried = new Float64Array(m);
    p.residuals(next, tried);
    const won = sum - sumOf(tried);
    if (won > 0) {
      const share = promised > 0 ? won / promised : 0;
      damping *= Math.max(1 / 3, 1 - (2 * share - 1) ** 3);
      harder = 2;
      x = next;
      r = tried;
      sum -= won;
      stale = true;
      if (won <= leastGain * sum) return done(step + 1, 'no gain left');
    } else {
      if (Math.abs(promised) <= leastGain * sum || damping > 1e20) return done(step, 'no gain left');
      damping *= harder;
      harder *= 2;
    }
  }
  return done(mostSteps, 'steps used up');
};
