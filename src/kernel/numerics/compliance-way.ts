import { B } from './block-matrix.ts';
import type { FrontPlan } from './front-plan.ts';

/** The non-zero entries of one column of E, in elimination-order unknowns (6 i + c). */
export interface Column {
  readonly at: readonly number[];
  readonly value: readonly number[];
}

/**
 * The way of some columns through the elimination tree: a force on one unknown only fills the parts from its own up to
 * the root. The unknowns of all parts on the way stand packed one part after another.
 */
export interface Way {
  /** Columns in the order they are best taken: neighbours share most of their way. */
  readonly order: readonly number[];
  /** Of each border node of the plan: where its unknowns begin, packed. */
  readonly borderAt: Int32Array;
  /** Packed unknowns, a multiple of 4. */
  readonly length: number;
  /** The columns order[from .. from + wide) side by side. */
  readonly batch: (from: number, wide: number) => Batch;
}

/** Some columns side by side: x is packed, `wide` numbers an unknown. */
export interface Batch {
  /** Entries of x that are not zero at the start. */
  readonly at: Int32Array;
  readonly value: Float64Array;
  /** The parts they pass, children first, and where the unknowns of each begin. */
  readonly parts: Int32Array;
  readonly where: Int32Array;
}

const partOfNodes = (plan: FrontPlan): Int32Array => {
  const part = new Int32Array(plan.partStart[plan.parts]);
  for (let p = 0; p < plan.parts; p++) part.fill(p, plan.partStart[p], plan.partStart[p + 1]);
  return part;
};

/** @param columns entries at held unknowns would count their identity rows: leave them out */
export const wayOf = (plan: FrontPlan, columns: readonly Column[]): Way => {
  const part = partOfNodes(plan);
  const markUp = (from: number, used: Uint8Array): void => {
    for (let p = from; p >= 0 && !used[p]; p = plan.parent[p]) used[p] = 1;
  };
  const used = new Uint8Array(plan.parts);
  for (const c of columns) for (const u of c.at) markUp(part[(u / B) | 0], used);
  const begins = new Int32Array(plan.parts);
  let length = 0;
  for (let p = 0; p < plan.parts; p++)
    if (used[p]) {
      begins[p] = length;
      length += B * (plan.partStart[p + 1] - plan.partStart[p]);
    }
  const packed = (node: number): number => begins[part[node]] + B * (node - plan.partStart[part[node]]);
  const borderAt = new Int32Array(plan.border.length);
  for (let p = 0; p < plan.parts; p++)
    if (used[p])
      for (let k = plan.borderStart[p]; k < plan.borderStart[p + 1]; k++)
        borderAt[k] = packed(plan.border[k]);
  const first = columns.map((c) => c.at.reduce((least, u) => Math.min(least, u), Number.POSITIVE_INFINITY));
  const order = columns.map((_, i) => i).sort((a, b) => first[a] - first[b]);
  const batch = (from: number, wide: number): Batch => {
    const passed = new Uint8Array(plan.parts);
    const at: number[] = [];
    const value: number[] = [];
    order.slice(from, from + wide).forEach((i, c) => {
      columns[i].at.forEach((u, k) => {
        const node = (u / B) | 0;
        at.push((packed(node) + u - B * node) * wide + c);
        value.push(columns[i].value[k]);
        markUp(part[node], passed);
      });
    });
    const parts: number[] = [];
    for (let p = 0; p < plan.parts; p++) if (passed[p]) parts.push(p);
    return {
      at: Int32Array.from(at),
      value: Float64Array.from(value),
      parts: Int32Array.from(parts),
      where: Int32Array.from(parts, (p) => begins[p]),
    };
  };
  return { order, borderAt, length: (length + 3) & ~3, batch };
};
