/**
 * The small dense problem behind contact: the least power of points that may not fall below their bounds. Matrices are
 * row-major n × n in Float64Array.
 */
export interface Pressed {
  /** S: how the points give under forces on one another, symmetric positive definite. */
  readonly compliance: Float64Array;
  /** Speeds without any force. */
  readonly alone: Float64Array;
  readonly low: Float64Array;
  /** Stiffness of springs that stood under the points when S and `alone` were found and are not there in truth; 0: none. */
  readonly spring: Float64Array;
  /** First guess: 1 where a point is at its bound. */
  readonly atBound: Uint8Array;
}

export interface PressedAnswer {
  /** Force on each point, what undoes its spring included. */
  readonly force: Float64Array;
  readonly speed: Float64Array;
  readonly atBound: Uint8Array;
}

/** A bound is passed, and a support pulls, from this part of the greatest speed and force. */
const SPEED_ROUND_OFF = 1e-10;
const FORCE_ROUND_OFF = 1e-9;
/** Round-off must not make a free fall go downhill both ways. */
const SPRING_SHARE = 1 - 1e-9;

/**
 * Speeds v = alone + S·r with r = push + k·v, push ≥ 0, v ≥ low, push·(v - low) = 0: block principal pivoting with the
 * single-exchange safeguard that makes it end (J. J. Júdice, F. M. Pires, Comput. Oper. Res. 21 (1994) 587-596).
 * Solved for the forces, of which there are few: most points are free and bear none (a third of the time of
 * solving for the speeds).
 * @returns undefined where the matrix turns out not to be positive definite
 */
export const leastPressed = (p: Pressed): PressedAnswer | undefined => {
  const n = p.alone.length;
  const atBound = p.atBound.slice();
  let fewest = n + 1;
  let patience = 3;
  for (let round = 0; round < 20 * n + 50; round++) {
    const force = forcesFor(p, atBound);
    if (!force) return undefined;
    const speed = speedsFor(p, force);
    const wrong = wrongOf(p, atBound, force, speed);
    if (wrong.length === 0) return { force, speed, atBound };
    if (wrong.length < fewest) {
      fewest = wrong.length;
      patience = 3;
    } else patience--;
    for (const i of patience >= 0 ? wrong : [wrong[wrong.length - 1]]) atBound[i] = atBound[i] ? 0 : 1;
  }
  return undefined;
};

/** Forces for given points at their bounds: S·r = low - alone there, r/k - S·r = alone on the springs left. */
const forcesFor = (p: Pressed, atBound: Uint8Array): Float64Array | undefined => {
  const n = p.alone.length;
  const held: number[] = [];
  const sprung: number[] = [];
  for (let i = 0; i < n; i++)
    if (atBound[i]) held.push(i);
    else if (p.spring[i] > 0) sprung.push(i);
  const pick = Int32Array.from([...held, ...sprung]);
  const m = pick.length;
  const a = new Float64Array(m * m);
  const x = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    const row = pick[i] * n;
    for (let j = 0; j <= i; j++) a[i * m + j] = p.compliance[row + pick[j]];
    x[i] = -p.alone[pick[i]];
    if (i < held.length) x[i] += p.low[pick[i]];
    else a[i * m + i] -= 1 / (SPRING_SHARE * p.spring[pick[i]]);
  }
  if (!solveQuasiDefinite(a, x, held.length)) return undefined;
  const force = new Float64Array(n);
  for (let i = 0; i < m; i++) force[pick[i]] = x[i];
  return force;
};

/**
 * Solves in place a symmetric system whose first block is positive and the rest negative definite, by L·D·Lᵀ without
 * pivoting, which always exists for such (R. J. Vanderbei, SIAM J. Optim. 5 (1995) 100-113). Lower half given.
 * @returns false where a pivot has the wrong sign
 */
const solveQuasiDefinite = (a: Float64Array, x: Float64Array, positive: number): boolean => {
  const m = x.length;
  const d = new Float64Array(m);
  const scaled = new Float64Array(m);
  for (let i = 0; i < m; i++) {
    const row = i * m;
    for (let j = 0; j < i; j++) {
      let s = a[row + j];
      const other = j * m;
      for (let k = 0; k < j; k++) s -= scaled[k] * a[other + k];
      scaled[j] = s; // L·D of this row
      a[row + j] = s / d[j];
    }
    let s = a[row + i];
    for (let k = 0; k < i; k++) s -= scaled[k] * a[row + k];
    if (!(i < positive ? s > 0 : s < 0)) return false;
    d[i] = s;
  }
  for (let i = 0; i < m; i++) for (let k = 0; k < i; k++) x[i] -= a[i * m + k] * x[k];
  for (let i = m - 1; i >= 0; i--) {
    x[i] /= d[i];
    for (let k = i + 1; k < m; k++) x[i] -= a[k * m + i] * x[k];
  }
  return true;
};

const speedsFor = (p: Pressed, force: Float64Array): Float64Array => {
  const n = force.length;
  const speed = p.alone.slice();
  for (let j = 0; j < n; j++) {
    const f = force[j];
    if (f !== 0) for (let i = 0, o = j * n; i < n; i++) speed[i] += p.compliance[o + i] * f;
  }
  return speed;
};

/** Points on the wrong side: free ones below their bound, held ones that pull. */
const wrongOf = (p: Pressed, atBound: Uint8Array, force: Float64Array, speed: Float64Array): number[] => {
  let fast = 0;
  let strong = 0;
  for (let i = 0; i < force.length; i++) {
    fast = Math.max(fast, Math.abs(speed[i]), Math.abs(p.alone[i]));
    strong = Math.max(strong, Math.abs(force[i]));
  }
  const wrong: number[] = [];
  for (let i = 0; i < force.length; i++)
    if (atBound[i]) {
      if (force[i] - SPRING_SHARE * p.spring[i] * p.low[i] < -FORCE_ROUND_OFF * strong) wrong.push(i);
    } else if (speed[i] < p.low[i] - SPEED_ROUND_OFF * fast) wrong.push(i);
  return wrong;
};
