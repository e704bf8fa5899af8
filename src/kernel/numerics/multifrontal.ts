import { B, type BlockMatrix } from './block-matrix.ts';
import type { Dissection } from './dissection.ts';
import type { FrontKernel } from './front-kernel.ts';

/**
 * Multifrontal Cholesky on the parts of a nested dissection (I. S. Duff, J. K. Reid, ACM Trans. Math.
 * Softw. 9 (1983) 302-325). The plan depends on connectivity alone and is made once; the numbers are
 * made anew for every shape.
 */
export interface FrontPlan {
  readonly parts: number;
  readonly partStart: Int32Array;
  readonly parent: Int32Array;
  /** Border nodes (elimination positions, rising) of part s: border[borderStart[s] .. borderStart[s + 1]). */
  readonly borderStart: Int32Array;
  readonly border: Int32Array;
  /** Padded pivot and border unknowns of each part (multiples of 4). */
  readonly pivots: Int32Array;
  readonly borders: Int32Array;
  /** Where each part's factor block begins, and the length of all. */
  readonly factorAt: Int32Array;
  readonly factorLength: number;
  /** Where each part's border block stands on the stack while it waits for its parent. */
  readonly stackAt: Int32Array;
  readonly stackLength: number;
  /** Multiply-add pairs ×2 of one factorisation. */
  readonly flops: number;
}

const padded = (n: number): number => (n + 3) & ~3;

/** Symbolic phase: which nodes border each part, how much room all needs. Throws nothing. */
export const planFronts = (matrix: BlockMatrix, d: Dissection): FrontPlan => {
  const parts = d.parent.length;
  const children: number[][] = Array.from({ length: parts }, () => []);
  for (let s = 0; s < parts; s++) if (d.parent[s] >= 0) children[d.parent[s]].push(s);
  const borders: Int32Array[] = [];
  const seen = new Int32Array(matrix.nodes).fill(-1);
  const pivotCount = new Int32Array(parts);
  const borderCount = new Int32Array(parts);
  const factorAt = new Int32Array(parts);
  const stackAt = new Int32Array(parts);
  let factorLength = 0;
  let stackTop = 0;
  let stackLength = 0;
  let flops = 0;
  for (let s = 0; s < parts; s++) {
    const end = d.partStart[s + 1];
    const mine: number[] = [];
    const take = (i: number) => {
      if (i >= end && seen[i] !== s) {
        seen[i] = s;
        mine.push(i);
      }
    };
    for (let j = d.partStart[s]; j < end; j++)
      for (let k = matrix.start[j]; k < matrix.start[j + 1]; k++) take(matrix.row[k]);
    for (const c of children[s]) for (const i of borders[c]) take(i);
    borders.push(Int32Array.from(mine).sort());
    const p = padded(B * (end - d.partStart[s]));
    const q = padded(B * mine.length);
    pivotCount[s] = p;
    borderCount[s] = q;
    factorAt[s] = factorLength;
    factorLength += (p + q) * p;
    // The border block is built above the children's blocks, then moved down over them.
    const low = children[s].length > 0 ? stackAt[children[s][0]] : stackTop;
    stackLength = Math.max(stackLength, stackTop + q * q);
    stackAt[s] = low;
    stackTop = low + q * q;
    flops += (p * p * p) / 3 + p * p * q + p * q * q;
  }
  const borderStart = new Int32Array(parts + 1);
  for (let s = 0; s < parts; s++) borderStart[s + 1] = borderStart[s] + borders[s].length;
  const border = new Int32Array(borderStart[parts]);
  for (let s = 0; s < parts; s++) border.set(borders[s], borderStart[s]);
  return {
    parts,
    partStart: d.partStart,
    parent: d.parent,
    borderStart,
    border,
    pivots: pivotCount,
    borders: borderCount,
    factorAt,
    factorLength,
    stackAt,
    stackLength,
    flops,
  };
};

export interface Factor {
  readonly plan: FrontPlan;
  readonly values: Float64Array;
  /**
   * The factor once more in single precision, for the solves: they wait on memory, and half the bytes took 0.6 of
   * the time; conjugate gradients around them make up the lost digits.
   */
  readonly single: Float32Array;
  readonly stack: Float64Array;
  readonly where: Int32Array;
  readonly work: Float64Array;
}

/** Room for the numbers of a factorisation; reused from step to step. */
export const makeFactor = (plan: FrontPlan, nodes: number): Factor => {
  let widest = 0;
  for (let s = 0; s < plan.parts; s++) widest = Math.max(widest, plan.pivots[s] + plan.borders[s]);
  return {
    plan,
    values: new Float64Array(plan.factorLength),
    single: new Float32Array(plan.factorLength),
    stack: new Float64Array(plan.stackLength),
    where: new Int32Array(nodes),
    work: new Float64Array(widest),
  };
};

/** Adds the matrix's own blocks of part s into its (zeroed) pivot columns; held unknowns become identity rows. */
const gatherPivots = (f: Factor, s: number, m: BlockMatrix, held: Uint8Array): void => {
  const { plan, values, where } = f;
  const p = plan.pivots[s];
  const at = plan.factorAt[s];
  const first = plan.partStart[s];
  const end = plan.partStart[s + 1];
  const real = B * (end - first);
  for (let d = real; d < p; d++) values[at + d * p + d] = 1; // padding
  for (let j = first; j < end; j++) {
    const col = B * (j - first);
    for (let k = m.start[j]; k < m.start[j + 1]; k++) {
      const i = m.row[k];
      const row = where[i];
      for (let r = 0; r < B; r++) {
        if (held[B * i + r]) continue;
        const o = at + (row + r) * p + col;
        const b = 36 * k + B * r;
        for (let c = 0; c < B; c++) if (!held[B * j + c]) values[o + c] = m.values[b + c];
      }
    }
    for (let c = 0; c < B; c++) if (held[B * j + c]) values[at + (col + c) * p + col + c] = 1;
  }
};

/** Adds a child's border block into the parent's pivot columns and border block. */
const extendAdd = (f: Factor, child: number, parent: number, from: number, to: number): void => {
  const { plan, values, stack, where } = f;
  const q = plan.borders[child];
  const p = plan.pivots[parent];
  const pq = plan.borders[parent];
  const at = plan.factorAt[parent];
  const b0 = plan.borderStart[child];
  const count = plan.borderStart[child + 1] - b0;
  for (let a = 0; a < count; a++) {
    const row = where[plan.border[b0 + a]];
    for (let r = 0; r < B; r++) {
      const source = from + (B * a + r) * q;
      for (let c = 0; c <= a; c++) {
        const col = where[plan.border[b0 + c]];
        const width = c === a ? r + 1 : B;
        const o = col < p ? at + (row + r) * p + col : to + (row - p + r) * pq + (col - p);
        const target = col < p ? values : stack;
        const g = source + B * c;
        for (let e = 0; e < width; e++) target[o + e] += stack[g + e];
      }
    }
  }
};

/**
 * Numeric phase. `held[6 i + c]` ≠ 0 takes unknown c of elimination position i out (identity row).
 * @returns true, or false where the matrix is not positive definite (a mechanism, or a collapsed triangle)
 */
export const factorise = (f: Factor, m: BlockMatrix, held: Uint8Array, kernel: FrontKernel): boolean => {
  const { plan, values, stack, where } = f;
  values.fill(0);
  const waiting: number[] = [];
  for (let s = 0; s < plan.parts; s++) {
    const p = plan.pivots[s];
    const q = plan.borders[s];
    const first = plan.partStart[s];
    for (let j = first; j < plan.partStart[s + 1]; j++) where[j] = B * (j - first);
    for (let k = plan.borderStart[s], o = p; k < plan.borderStart[s + 1]; k++, o += B)
      where[plan.border[k]] = o;
    gatherPivots(f, s, m, held);
    let children = 0;
    while (children < waiting.length && plan.parent[waiting[waiting.length - 1 - children]] === s) children++;
    const low = plan.stackAt[s];
    const last = waiting[waiting.length - 1];
    const to = children > 0 ? plan.stackAt[last] + plan.borders[last] ** 2 : low;
    stack.fill(0, to, to + q * q);
    for (let c = 0; c < children; c++) {
      const child = waiting.pop() as number;
      extendAdd(f, child, s, plan.stackAt[child], to);
    }
    if (kernel.factor(values, plan.factorAt[s], p, q, stack, to) >= 0) return false;
    if (to !== low) stack.copyWithin(low, to, to + q * q);
    waiting.push(s);
  }
  f.single.set(values);
  return true;
};

/**
 * Solves in place: x (6 × nodes, elimination order) holds the right side and becomes the solution.
 * Six rows at a time: one row alone waits on its own additions (measured 2.3 times slower).
 */
export const solveFactored = (f: Factor, x: Float64Array): void => {
  const { plan } = f;
  for (let s = 0; s < plan.parts; s++) forward(f, s, x);
  for (let s = plan.parts - 1; s >= 0; s--) backward(f, s, x);
};

const sums = new Float64Array(B);

/** sums[r] = Σ_{k < n} v[row + r·p + k]·w[k] for six rows. */
const dotRows = (v: Float32Array, row: number, p: number, w: Float64Array, n: number): void => {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let s5 = 0;
  let a0 = row;
  let a1 = a0 + p;
  let a2 = a1 + p;
  let a3 = a2 + p;
  let a4 = a3 + p;
  let a5 = a4 + p;
  for (let k = 0; k < n; k++) {
    const wk = w[k];
    s0 += v[a0++] * wk;
    s1 += v[a1++] * wk;
    s2 += v[a2++] * wk;
    s3 += v[a3++] * wk;
    s4 += v[a4++] * wk;
    s5 += v[a5++] * wk;
  }
  sums[0] = s0;
  sums[1] = s1;
  sums[2] = s2;
  sums[3] = s3;
  sums[4] = s4;
  sums[5] = s5;
};

/** w[k] -= Σ_r v[row + r·p + k]·x[at + r] for six rows, k < n. */
const takeRows = (
  v: Float32Array,
  row: number,
  p: number,
  w: Float64Array,
  n: number,
  x: Float64Array,
  at: number,
): void => {
  const x0 = x[at];
  const x1 = x[at + 1];
  const x2 = x[at + 2];
  const x3 = x[at + 3];
  const x4 = x[at + 4];
  const x5 = x[at + 5];
  let a0 = row;
  let a1 = a0 + p;
  let a2 = a1 + p;
  let a3 = a2 + p;
  let a4 = a3 + p;
  let a5 = a4 + p;
  for (let k = 0; k < n; k++)
    w[k] -= v[a0++] * x0 + v[a1++] * x1 + v[a2++] * x2 + v[a3++] * x3 + v[a4++] * x4 + v[a5++] * x5;
};

const forward = (f: Factor, s: number, x: Float64Array): void => {
  const { plan, single: values, work } = f;
  const p = plan.pivots[s];
  const real = B * (plan.partStart[s + 1] - plan.partStart[s]);
  const base = B * plan.partStart[s];
  const at = plan.factorAt[s];
  for (let r0 = 0; r0 < real; r0 += B) {
    dotRows(values, at + r0 * p, p, work, r0);
    for (let r = 0; r < B; r++) {
      const row = at + (r0 + r) * p + r0;
      let sum = x[base + r0 + r] - sums[r];
      for (let k = 0; k < r; k++) sum -= values[row + k] * work[r0 + k];
      x[base + r0 + r] = work[r0 + r] = sum / values[row + r];
    }
  }
  let row = at + p * p;
  for (let k = plan.borderStart[s]; k < plan.borderStart[s + 1]; k++, row += B * p) {
    dotRows(values, row, p, work, real);
    const o = B * plan.border[k];
    for (let r = 0; r < B; r++) x[o + r] -= sums[r];
  }
};

const backward = (f: Factor, s: number, x: Float64Array): void => {
  const { plan, single: values, work } = f;
  const p = plan.pivots[s];
  const real = B * (plan.partStart[s + 1] - plan.partStart[s]);
  const base = B * plan.partStart[s];
  const at = plan.factorAt[s];
  for (let c = 0; c < real; c++) work[c] = x[base + c];
  let row = at + p * p;
  for (let k = plan.borderStart[s]; k < plan.borderStart[s + 1]; k++, row += B * p)
    takeRows(values, row, p, work, real, x, B * plan.border[k]);
  for (let r0 = real - B; r0 >= 0; r0 -= B) {
    for (let r = B - 1; r >= 0; r--) {
      const rowAt = at + (r0 + r) * p + r0;
      const v = work[r0 + r] / values[rowAt + r];
      x[base + r0 + r] = v;
      for (let k = 0; k < r; k++) work[r0 + k] -= values[rowAt + k] * v;
    }
    takeRows(values, at + r0 * p, p, work, r0, x, base + r0);
  }
};
