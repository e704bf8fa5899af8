import { B, type BlockMatrix } from './block-matrix.ts';
import type { Dissection } from './dissection.ts';

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
