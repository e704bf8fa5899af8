import { B } from './block-matrix.ts';
import type { Factor } from './multifrontal.ts';

/**
 * How some unknowns give under unit forces on one another: S = Eᵀ·K⁻¹·E for a factored K. With K = L·Lᵀ,
 * S = (L⁻¹E)ᵀ(L⁻¹E), and L⁻¹ of one unit force only fills the parts from its own up to the root.
 * @param unknowns elimination-order unknowns (6 i + c) @returns S, m × m row-major
 */
export const complianceOf = (f: Factor, unknowns: readonly number[]): Float64Array => {
  const { plan } = f;
  const partOf = (node: number): number => {
    let lo = 0;
    let hi = plan.parts - 1;
    while (lo < hi) {
      const mid = (lo + hi + 1) >> 1;
      if (plan.partStart[mid] <= node) lo = mid;
      else hi = mid - 1;
    }
    return lo;
  };
  const starts = unknowns.map((u) => partOf((u / B) | 0));
  const used = new Uint8Array(plan.parts);
  for (const s of starts) for (let p = s; p >= 0 && !used[p]; p = plan.parent[p]) used[p] = 1;
  // Unknowns of the used parts, packed one part after another.
  const packedAt = new Int32Array(plan.parts).fill(-1);
  let length = 0;
  for (let p = 0; p < plan.parts; p++)
    if (used[p]) {
      packedAt[p] = length - B * plan.partStart[p];
      length += B * (plan.partStart[p + 1] - plan.partStart[p]);
    }
  const borderAt = new Int32Array(plan.border.length);
  for (let p = 0; p < plan.parts; p++)
    if (used[p])
      for (let k = plan.borderStart[p]; k < plan.borderStart[p + 1]; k++) {
        const node = plan.border[k];
        borderAt[k] = packedAt[partOf(node)] + B * node;
      }
  const m = unknowns.length;
  const columns = unknowns.map((u, i) => {
    const x = new Float64Array(length);
    x[packedAt[starts[i]] + u] = 1;
    for (let p = starts[i]; p >= 0; p = plan.parent[p])
      forward(f, p, x, packedAt[p] + B * plan.partStart[p], borderAt);
    return x;
  });
  const s = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j <= i; j++) {
      const a = columns[i];
      const b = columns[j];
      let sum = 0;
      for (let k = 0; k < length; k++) sum += a[k] * b[k];
      s[i * m + j] = s[j * m + i] = sum;
    }
  return s;
};

/** One part of x ← L⁻¹·x in double precision; `base` is where the part's unknowns stand in x. */
const forward = (f: Factor, part: number, x: Float64Array, base: number, borderAt: Int32Array): void => {
  const { plan, values } = f;
  const p = plan.pivots[part];
  const real = B * (plan.partStart[part + 1] - plan.partStart[part]);
  const at = plan.factorAt[part];
  let first = 0;
  while (first < real && x[base + first] === 0) first++;
  if (first === real) return;
  for (let r = first; r < real; r++) {
    const row = at + r * p;
    let sum = x[base + r];
    for (let k = first; k < r; k++) sum -= values[row + k] * x[base + k];
    x[base + r] = sum / values[row + r];
  }
  let row = at + p * p;
  for (let k = plan.borderStart[part]; k < plan.borderStart[part + 1]; k++) {
    const o = borderAt[k];
    for (let r = 0; r < B; r++, row += p) {
      let sum = 0;
      for (let c = first; c < real; c++) sum += values[row + c] * x[base + c];
      x[o + r] -= sum;
    }
  }
};
