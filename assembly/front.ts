import { fail, failed, meet } from './crew';
import { cholesky4, solve4, tile } from './tile';

/**
 * One front: p pivot and q border unknowns (multiples of 4). `l` holds all p + q rows of the pivot columns, `u` the
 * border, both in row groups of four (see tile.ts). The twin of src/kernel/numerics/front-kernel.ts.
 */
/** Columns factored before the rest is updated: a row group of so many columns is 4 kB, a few dozen stay near. */
const PANEL: usize = 128;
/** Row groups updated together, so that they are still near for the next column group. */
const NEAR: usize = 24;

/** Factors; the rows are shared among the threads, who all come here. A pivot not positive calls a failure. */
export function factorFront(l: usize, p: usize, q: usize, u: usize, thread: usize, threads: usize): void {
  const group = p << 5;
  const rows = (p + q) >> 2;
  for (let k0: usize = 0; k0 < p; k0 += PANEL) {
    const k1 = min(p, k0 + PANEL);
    const width = k1 - k0;
    if (thread === 0) factorDiagonal(l, group, k0, k1);
    meet(<i32>threads);
    if (failed()) return;
    for (let i = (k1 >> 2) + thread; i < rows; i += threads) solveRow(l, group, i, k0, k1);
    meet(<i32>threads);
    for (let near = k1 >> 2; near < rows; near += NEAR) {
      const far = min(rows, near + NEAR);
      for (let j = k1 >> 2; j < far; j++) {
        const b = l + j * group + (k0 << 5);
        const inBorder = j << 2 >= p;
        for (let i = max(near, j); i < far; i++) {
          if (threads > 1 && i % threads !== thread) continue;
          const c = inBorder ? u + (i - (p >> 2)) * (q << 5) + ((j << 2) - p) * 32 : l + i * group + (j << 7);
          tile(c, l + i * group + (k0 << 5), b, width);
        }
      }
    }
    if (k1 < p) meet(<i32>threads);
  }
}

function factorDiagonal(l: usize, group: usize, k0: usize, k1: usize): void {
  for (let j = k0 >> 2; j < k1 >> 2; j++) {
    const b = l + j * group + (k0 << 5);
    const width = (j << 2) - k0;
    const diagonal = l + j * group + (j << 7);
    for (let i = j; i < k1 >> 2; i++) {
      const c = l + i * group + (j << 7);
      if (width > 0) tile(c, l + i * group + (k0 << 5), b, width);
      if (i === j) {
        if (cholesky4(c) >= 0) {
          fail();
          return;
        }
      } else solve4(c, diagonal);
    }
  }
}

function solveRow(l: usize, group: usize, i: usize, k0: usize, k1: usize): void {
  const a = l + i * group + (k0 << 5);
  for (let j = k0 >> 2; j < k1 >> 2; j++) {
    const c = l + i * group + (j << 7);
    const width = (j << 2) - k0;
    if (width > 0) tile(c, a, l + j * group + (k0 << 5), width);
    solve4(c, l + j * group + (j << 7));
  }
}
