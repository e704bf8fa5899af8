import type { Graph } from './dissection.ts';

/** Unknowns a node; everything here is built of 6 × 6 blocks. */
export const B = 6;
const BB = B * B;

/**
 * Lower half of a symmetric matrix of 6 × 6 blocks, column by column in elimination order.
 * Block k couples row node row[k] (≥ column) with its column, row-major: entry (r, c) at 36 k + 6 r + c.
 * Diagonal blocks stand first in their column and are kept whole.
 */
export interface BlockMatrix {
  readonly nodes: number;
  readonly start: Int32Array;
  readonly row: Int32Array;
  readonly values: Float64Array;
}

/** An empty block matrix for a node graph; `rank[i]` is the elimination position of node i. */
export const blockMatrixOf = (graph: Graph, rank: Int32Array, order: Int32Array): BlockMatrix => {
  const nodes = rank.length;
  const start = new Int32Array(nodes + 1);
  const row: number[] = [];
  for (let j = 0; j < nodes; j++) {
    const node = order[j];
    row.push(j);
    const below: number[] = [];
    for (let k = graph.start[node]; k < graph.start[node + 1]; k++) {
      const i = rank[graph.adjacency[k]];
      if (i > j) below.push(i);
    }
    below.sort((a, b) => a - b);
    for (const i of below) row.push(i);
    start[j + 1] = row.length;
  }
  return { nodes, start, row: Int32Array.from(row), values: new Float64Array(row.length * BB) };
};

/** Index of block (i, j), i ≥ j, or -1. */
export const blockAt = (m: BlockMatrix, i: number, j: number): number => {
  let lo = m.start[j];
  let hi = m.start[j + 1] - 1;
  while (lo <= hi) {
    const mid = (lo + hi) >> 1;
    if (m.row[mid] === i) return mid;
    if (m.row[mid] < i) lo = mid + 1;
    else hi = mid - 1;
  }
  return -1;
};

/** y = M·x for all unknowns in elimination order (6 × nodes). */
export const multiply = (m: BlockMatrix, x: Float64Array, y: Float64Array): void => {
  const v = m.values;
  y.fill(0);
  for (let j = 0; j < m.nodes; j++) {
    const cj = B * j;
    const x0 = x[cj];
    const x1 = x[cj + 1];
    const x2 = x[cj + 2];
    const x3 = x[cj + 3];
    const x4 = x[cj + 4];
    const x5 = x[cj + 5];
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    let s4 = 0;
    let s5 = 0;
    for (let k = m.start[j]; k < m.start[j + 1]; k++) {
      const ci = B * m.row[k];
      let o = BB * k;
      const onDiagonal = ci === cj;
      for (let r = 0; r < B; r++, o += B) {
        const a0 = v[o];
        const a1 = v[o + 1];
        const a2 = v[o + 2];
        const a3 = v[o + 3];
        const a4 = v[o + 4];
        const a5 = v[o + 5];
        y[ci + r] += a0 * x0 + a1 * x1 + a2 * x2 + a3 * x3 + a4 * x4 + a5 * x5;
        if (!onDiagonal) {
          const xi = x[ci + r];
          s0 += a0 * xi;
          s1 += a1 * xi;
          s2 += a2 * xi;
          s3 += a3 * xi;
          s4 += a4 * xi;
          s5 += a5 * xi;
        }
      }
    }
    y[cj] += s0;
    y[cj + 1] += s1;
    y[cj + 2] += s2;
    y[cj + 3] += s3;
    y[cj + 4] += s4;
    y[cj + 5] += s5;
  }
};
