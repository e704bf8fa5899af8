import { B } from './block-matrix.ts';
import { type Column, wayOf } from './compliance-way.ts';
import { rowProducts } from './front-kernel.ts';
import type { FrontPlan } from './front-plan.ts';

/**
 * How some unknowns give under forces on one another: S = Eᵀ·K⁻¹·E for a factored K. With K = L·Lᵀ,
 * S = (L⁻¹E)ᵀ(L⁻¹E). Columns go eight at a time: they share most of their way, and each factor entry is read once
 * for all. In plain TypeScript; the oracle of the compiled one.
 */
const WIDE = 8;

/** @param values the factor, part after part @returns S, m × m row-major */
export const plainCompliance = (
  plan: FrontPlan,
  values: Float64Array,
  columns: readonly Column[],
): Float64Array => {
  const way = wayOf(plan, columns);
  const m = columns.length;
  const rows = new Float64Array(((m + 3) & ~3) * way.length);
  const x = new Float64Array(way.length * WIDE);
  for (let at = 0; at < m; at += WIDE) {
    const batch = way.batch(at, WIDE);
    x.fill(0);
    batch.at.forEach((o, k) => {
      x[o] = batch.value[k];
    });
    batch.parts.forEach((p, k) => {
      forward(plan, values, p, x, batch.where[k], way.borderAt);
    });
    way.order.slice(at, at + WIDE).forEach((i, c) => {
      for (let k = 0, o = i * way.length; k < way.length; k++) rows[o + k] = x[k * WIDE + c];
    });
  }
  return rowProducts(rows, m, way.length);
};

/** One part of x ← L⁻¹·x for eight columns side by side; `base` is where the part's unknowns stand in x. */
const forward = (
  plan: FrontPlan,
  values: Float64Array,
  part: number,
  x: Float64Array,
  base: number,
  borderAt: Int32Array,
): void => {
  const p = plan.pivots[part];
  const real = B * (plan.partStart[part + 1] - plan.partStart[part]);
  const at = plan.factorAt[part];
  for (let r = 0; r < real; r++) {
    const row = at + r * p;
    take(values, row, r, x, base * WIDE, (base + r) * WIDE);
    const d = 1 / values[row + r];
    for (let c = 0, o = (base + r) * WIDE; c < WIDE; c++) x[o + c] *= d;
  }
  let row = at + p * p;
  for (let k = plan.borderStart[part]; k < plan.borderStart[part + 1]; k++)
    for (let r = 0, o = borderAt[k] * WIDE; r < B; r++, row += p, o += WIDE)
      take(values, row, real, x, base * WIDE, o);
};

/** x[to + c] -= Σ_{k < n} v[row + k]·x[from + 8 k + c] for eight c. */
const take = (v: Float64Array, row: number, n: number, x: Float64Array, from: number, to: number): void => {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let s4 = 0;
  let s5 = 0;
  let s6 = 0;
  let s7 = 0;
  let o = from;
  for (let k = 0; k < n; k++, o += 8) {
    const a = v[row + k];
    s0 += a * x[o];
    s1 += a * x[o + 1];
    s2 += a * x[o + 2];
    s3 += a * x[o + 3];
    s4 += a * x[o + 4];
    s5 += a * x[o + 5];
    s6 += a * x[o + 6];
    s7 += a * x[o + 7];
  }
  x[to] -= s0;
  x[to + 1] -= s1;
  x[to + 2] -= s2;
  x[to + 3] -= s3;
  x[to + 4] -= s4;
  x[to + 5] -= s5;
  x[to + 6] -= s6;
  x[to + 7] -= s7;
};
