import { B, type BlockMatrix, blockAt } from '../numerics/block-matrix.ts';
import type { Column } from '../numerics/compliance-way.ts';

/**
 * A spring of stiffness k along a contact: adds k·a·aᵀ to the matrix. Every two nodes of the column must be neighbours,
 * as the corners of one triangle are.
 */
export const addSpring = (m: BlockMatrix, a: Column, k: number): void => {
  for (let p = 0; p < a.at.length; p++)
    for (let q = 0; q < a.at.length; q++) {
      const i = (a.at[p] / B) | 0;
      const j = (a.at[q] / B) | 0;
      if (i < j) continue; // only the lower half is kept; diagonal blocks whole
      const block = blockAt(m, i, j);
      m.values[36 * block + B * (a.at[p] - B * i) + a.at[q] - B * j] += k * a.value[p] * a.value[q];
    }
};

/** How fast a contact opens in a solution x (elimination order). */
export const along = (c: Column, x: Float64Array): number => {
  let s = 0;
  for (let k = 0; k < c.at.length; k++) s += c.value[k] * x[c.at[k]];
  return s;
};

/** Stiffness of the wall itself against one contact alone, from the diagonal: what a spring is measured by. */
export const ownStiffness = (m: BlockMatrix, a: Column): number => {
  let sum = 0;
  let square = 0;
  for (let p = 0; p < a.at.length; p++) {
    const i = (a.at[p] / B) | 0;
    const v = a.value[p] ** 2;
    sum += v * m.values[36 * m.start[i] + 7 * (a.at[p] - B * i)];
    square += v;
  }
  return sum / square ** 2;
};
