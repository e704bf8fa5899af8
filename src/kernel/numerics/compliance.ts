import { B } from './block-matrix.ts';
import { rowProducts } from './front-kernel.ts';
import type { Factor } from './multifrontal.ts';

/**
 * How some unknowns give under forces on one another: S = Eᵀ·K⁻¹·E for a factored K. With K = L·Lᵀ,
 * S = (L⁻¹E)ᵀ(L⁻¹E), and L⁻¹ of a force on one unknown only fills the parts from its own up to the root. Columns go
 * eight at a time: they share most of their way, and each factor entry is read once for all.
 */
const WIDE = 8;

/** The non-zero entries of one column of E, in elimination-order unknowns (6 i + c). */
export interface Column {
  readonly at: readonly number[];
  readonly value: readonly number[];
}

/** The parts from some unknowns up to the root, and where their unknowns stand packed one part after another. */
interface Way {
  readonly used: Uint8Array;
  readonly packedAt: Int32Array;
  readonly borderAt: Int32Array;
  readonly length: number;
}

const partsOf = (f: Factor): Int32Array => {
  const { plan } = f;
  const part = new Int32Array(plan.partStart[plan.parts]);
  for (let p = 0; p < plan.parts; p++) part.fill(p, plan.partStart[p], plan.partStart[p + 1]);
  return part;
};

const markUp = (f: Factor, from: number, used: Uint8Array): void => {
  for (let p = from; p >= 0 && !used[p]; p = f.plan.parent[p]) used[p] = 1;
};

const wayOf = (f: Factor, part: Int32Array, columns: readonly Column[]): Way => {
  const { plan } = f;
  const used = new Uint8Array(plan.parts);
  for (const c of columns) for (const u of c.at) markUp(f, part[(u / B) | 0], used);
  const packedAt = new Int32Array(plan.parts);
  let length = 0;
  for (let p = 0; p < plan.parts; p++)
    if (used[p]) {
      packedAt[p] = length - B * plan.partStart[p];
      length += B * (plan.partStart[p + 1] - plan.partStart[p]);
    }
  const borderAt = new Int32Array(plan.border.length);
  for (let p = 0; p < plan.parts; p++)
    if (used[p])
      for (let k = plan.borderStart[p]; k < plan.borderStart[p + 1]; k++)
        borderAt[k] = packedAt[part[plan.border[k]]] + B * plan.border[k];
  return { used, packedAt, borderAt, length: (length + 3) & ~3 };
};

/**
 * @param columns the columns of E; an entry at a held unknown would count its identity row: leave it out
 * @returns S, m × m row-major
 */
export const complianceOf = (f: Factor, columns: readonly Column[]): Float64Array => {
  const { plan } = f;
  const part = partsOf(f);
  const way = wayOf(f, part, columns);
  const m = columns.length;
  // Neighbours in elimination order share their way.
  const first = columns.map((c) => Math.min(...c.at));
  const order = columns.map((_, i) => i).sort((a, b) => first[a] - first[b]);
  const rows = new Float64Array(((m + 3) & ~3) * way.length);
  const x = new Float64Array(way.length * WIDE);
  for (let at = 0; at < m; at += WIDE) {
    x.fill(0);
    const mine = order.slice(at, at + WIDE);
    const used = new Uint8Array(plan.parts);
    mine.forEach((i, c) => {
      const { at: unknowns, value } = columns[i];
      unknowns.forEach((u, k) => {
        const p = part[(u / B) | 0];
        x[(way.packedAt[p] + u) * WIDE + c] = value[k];
        markUp(f, p, used);
      });
    });
    for (let p = 0; p < plan.parts; p++)
      if (used[p]) forward(f, p, x, way.packedAt[p] + B * plan.partStart[p], way.borderAt);
    mine.forEach((i, c) => {
      for (let k = 0, o = i * way.length; k < way.length; k++) rows[o + k] = x[k * WIDE + c];
    });
  }
  return rowProducts(rows, m, way.length);
};

/** One part of x ← L⁻¹·x for eight columns side by side; `base` is where the part's unknowns stand in x. */
const forward = (f: Factor, part: number, x: Float64Array, base: number, borderAt: Int32Array): void => {
  const { plan } = f;
  const { values } = f.engine;
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
