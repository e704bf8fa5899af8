import { B, type BlockMatrix } from './block-matrix.ts';
import { plainCompliance } from './compliance.ts';
import type { MakeEngine } from './front-engine.ts';
import { factorFront } from './front-kernel.ts';
import type { FrontPlan } from './front-plan.ts';
import { solveParts } from './front-solve.ts';

/**
 * The engine in plain TypeScript: runs anywhere, and is the oracle for any other.
 */
interface Plain {
  readonly plan: FrontPlan;
  /** The factor, part after part (plan.factorAt). */
  readonly values: Float64Array;
  /**
   * The same in single precision, for the solves: they wait on memory, and half the bytes took 0.6 of the time;
   * conjugate gradients around them make up the lost digits.
   */
  readonly single: Float32Array;
  /** Border blocks waiting for their parent (plan.stackAt). */
  readonly stack: Float64Array;
  /** Where each node stands in the front at work. */
  readonly where: Int32Array;
}

/** Adds the matrix's own blocks of part s into its (zeroed) pivot columns; held unknowns become identity rows. */
const gatherPivots = (f: Plain, s: number, m: BlockMatrix, held: Uint8Array): void => {
  const { plan, where, values } = f;
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
const extendAdd = (f: Plain, child: number, parent: number, from: number, to: number): void => {
  const { plan, where, values, stack } = f;
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
const factorise = (f: Plain, m: BlockMatrix, held: Uint8Array): boolean => {
  const { plan, where, values, stack, single } = f;
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
    if (factorFront(values, plan.factorAt[s], p, q, stack, to) >= 0) return false;
    if (to !== low) stack.copyWithin(low, to, to + q * q);
    waiting.push(s);
  }
  single.set(values);
  return true;
};

/** Measured speeds of factorisation and solves, GF/s. */
const FACTOR_SPEED = 3.3;
const SOLVE_SPEED = 2.3;

export const plainEngine: MakeEngine = (plan, matrix) => {
  const f: Plain = {
    plan,
    values: new Float64Array(plan.factorLength),
    single: new Float32Array(plan.factorLength),
    stack: new Float64Array(plan.stackLength),
    where: new Int32Array(matrix.nodes),
  };
  let widest = 0;
  for (let s = 0; s < plan.parts; s++) widest = Math.max(widest, plan.pivots[s]);
  const work = new Float64Array(widest);
  return {
    factorise: (m, held) => factorise(f, m, held),
    solve: (x) => solveParts(plan, f.single, work, x),
    compliance: (columns) => plainCompliance(plan, f.values, columns),
    worthSolves: plan.flops / FACTOR_SPEED / ((4 * plan.factorLength) / SOLVE_SPEED),
    free: () => {},
  };
};
