import { leastAbove } from '../../../kernel/numerics/bounded.ts';

/**
 * The point nearest to a target that keeps all of many rows, row · u + room ≥ 0, in a few unknowns: the step a rigid body
 * takes that may not pass what it touches. The dual has one push ≥ 0 a row and is small once the few rows that
 * matter are known, so rows are taken in where the answer breaks them most (J. E. Kelley, J. SIAM 8 (1960) 703-712)
 * and dropped where they push nothing. A breath of give (EASE) keeps the dual definite where more rows meet than
 * there are unknowns.
 */
export interface Rows {
  /** Rows of `width` numbers, one after the other. */
  readonly rows: Float64Array;
  readonly room: Float64Array;
  readonly width: number;
}

export interface Nearest {
  readonly u: Float64Array;
  /** Rows that push, and how much. */
  readonly pushing: readonly { readonly row: number; readonly push: number }[];
}

const EASE = 1e-9;
const TAKEN_AT_ONCE = 6;
const MOST_ROUNDS = 30;

const dotRow = (r: Rows, i: number, u: Float64Array): number => {
  let s = 0;
  for (let k = 0; k < r.width; k++) s += r.rows[i * r.width + k] * u[k];
  return s;
};

/** Rows broken by more than `slack`, the worst first. */
const broken = (r: Rows, u: Float64Array, slack: number): number[] => {
  const worst: { row: number; by: number }[] = [];
  for (let i = 0; i < r.room.length; i++) {
    const by = dotRow(r, i, u) + r.room[i];
    if (by >= -slack) continue;
    if (worst.length === TAKEN_AT_ONCE && by >= worst[worst.length - 1].by) continue;
    worst.push({ row: i, by });
    worst.sort((a, b) => a.by - b.by);
    if (worst.length > TAKEN_AT_ONCE) worst.pop();
  }
  return worst.map(({ row }) => row);
};

/** Pushes of these rows alone. */
const pushesOf = (r: Rows, target: Float64Array, used: readonly number[]): Float64Array | undefined => {
  const n = used.length;
  const a = new Float64Array(n * n);
  const b = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const row = r.rows.subarray(used[i] * r.width, (used[i] + 1) * r.width);
    for (let j = 0; j < n; j++) a[i * n + j] = dotRow(r, used[j], row) + (i === j ? EASE : 0);
    b[i] = -dotRow(r, used[i], target) - r.room[used[i]];
  }
  return leastAbove(a, b, new Float64Array(n), new Uint8Array(n))?.x;
};

/**
 * @param slack a row broken by less counts as kept
 * @returns undefined where no answer was found
 */
export const nearestInCone = (r: Rows, target: Float64Array, slack: number): Nearest | undefined => {
  let used: number[] = [];
  let pushes = new Float64Array(0);
  const u = target.slice();
  for (let round = 0; round < MOST_ROUNDS; round++) {
    u.set(target);
    used.forEach((row, i) => {
      for (let k = 0; k < r.width; k++) u[k] += pushes[i] * r.rows[row * r.width + k];
    });
    const taken = broken(r, u, slack).filter((row) => !used.includes(row));
    if (taken.length === 0) break;
    used = [...used.filter((_, i) => pushes[i] > 0), ...taken];
    const found = pushesOf(r, target, used);
    if (!found) return undefined;
    pushes = new Float64Array(found);
  }
  return {
    u,
    pushing: used.map((row, i) => ({ row, push: pushes[i] })).filter(({ push }) => push > 0),
  };
};
