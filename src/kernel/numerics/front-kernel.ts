/**
 * Dense work on one front, in plain TypeScript; a faster twin may do it instead (see front-engine.ts), this one stays
 * as the oracle.
 *
 * A front with p pivot and q border unknowns is kept as two dense blocks, both row-major with rows and
 * columns padded to multiples of 4: `L`, (p + q) × p, the pivot columns, which become the factor in place;
 * and `U`, q × q (lower half used), the border, which becomes the Schur complement handed to the parent.
 *
 * Tried: 6 × 6 register tiles spill in plain JavaScript; 4 × 4 dot products along contiguous rows were
 * the fastest of 2 × 2, 4 × 2, 4 × 4 and 6 × 3.
 */
const tile = new Float64Array(16);

/** tile = Σ_{k0 ≤ k < k1} a[i..i+3, k] · a[j..j+3, k] for rows at offsets i and j, leading dimension ld. */
const dots4x4 = (a: Float64Array, i: number, j: number, ld: number, k0: number, k1: number): void => {
  let s00 = 0;
  let s01 = 0;
  let s02 = 0;
  let s03 = 0;
  let s10 = 0;
  let s11 = 0;
  let s12 = 0;
  let s13 = 0;
  let s20 = 0;
  let s21 = 0;
  let s22 = 0;
  let s23 = 0;
  let s30 = 0;
  let s31 = 0;
  let s32 = 0;
  let s33 = 0;
  let i0 = i + k0;
  let i1 = i0 + ld;
  let i2 = i1 + ld;
  let i3 = i2 + ld;
  let j0 = j + k0;
  let j1 = j0 + ld;
  let j2 = j1 + ld;
  let j3 = j2 + ld;
  for (let k = k0; k < k1; k++) {
    const b0 = a[j0++];
    const b1 = a[j1++];
    const b2 = a[j2++];
    const b3 = a[j3++];
    const a0 = a[i0++];
    s00 += a0 * b0;
    s01 += a0 * b1;
    s02 += a0 * b2;
    s03 += a0 * b3;
    const a1 = a[i1++];
    s10 += a1 * b0;
    s11 += a1 * b1;
    s12 += a1 * b2;
    s13 += a1 * b3;
    const a2 = a[i2++];
    s20 += a2 * b0;
    s21 += a2 * b1;
    s22 += a2 * b2;
    s23 += a2 * b3;
    const a3 = a[i3++];
    s30 += a3 * b0;
    s31 += a3 * b1;
    s32 += a3 * b2;
    s33 += a3 * b3;
  }
  tile[0] = s00;
  tile[1] = s01;
  tile[2] = s02;
  tile[3] = s03;
  tile[4] = s10;
  tile[5] = s11;
  tile[6] = s12;
  tile[7] = s13;
  tile[8] = s20;
  tile[9] = s21;
  tile[10] = s22;
  tile[11] = s23;
  tile[12] = s30;
  tile[13] = s31;
  tile[14] = s32;
  tile[15] = s33;
};

/** c[i..i+3, 0..3] -= tile, rows `ld` apart. */
const subtractTile = (c: Float64Array, at: number, ld: number): void => {
  for (let r = 0, o = at; r < 4; r++, o += ld) {
    c[o] -= tile[4 * r];
    c[o + 1] -= tile[4 * r + 1];
    c[o + 2] -= tile[4 * r + 2];
    c[o + 3] -= tile[4 * r + 3];
  }
};

/** Cholesky of the 4 × 4 block at `at`; returns -1 or the failing row. */
const cholesky4 = (a: Float64Array, at: number, ld: number): number => {
  for (let r = 0; r < 4; r++) {
    const row = at + r * ld;
    for (let c = 0; c <= r; c++) {
      const other = at + c * ld;
      let s = a[row + c];
      for (let k = 0; k < c; k++) s -= a[row + k] * a[other + k];
      if (r === c) {
        if (!(s > 0)) return r;
        a[row + r] = Math.sqrt(s);
      } else a[row + c] = s / a[other + c];
    }
  }
  return -1;
};

/** X·Lᵀ = A for the 4 × 4 block A at `at` and the 4 × 4 factor at `diag`, in place. */
const solve4 = (a: Float64Array, at: number, diag: number, ld: number): void => {
  const l00 = 1 / a[diag];
  const l10 = a[diag + ld];
  const l11 = 1 / a[diag + ld + 1];
  const l20 = a[diag + 2 * ld];
  const l21 = a[diag + 2 * ld + 1];
  const l22 = 1 / a[diag + 2 * ld + 2];
  const l30 = a[diag + 3 * ld];
  const l31 = a[diag + 3 * ld + 1];
  const l32 = a[diag + 3 * ld + 2];
  const l33 = 1 / a[diag + 3 * ld + 3];
  for (let r = 0, o = at; r < 4; r++, o += ld) {
    const x0 = a[o] * l00;
    const x1 = (a[o + 1] - x0 * l10) * l11;
    const x2 = (a[o + 2] - x0 * l20 - x1 * l21) * l22;
    a[o] = x0;
    a[o + 1] = x1;
    a[o + 2] = x2;
    a[o + 3] = (a[o + 3] - x0 * l30 - x1 * l31 - x2 * l32) * l33;
  }
};

/** Columns factored before the rest is updated; wide enough for long dots, narrow enough for the cache. */
const PANEL = 128;

/** Factors the pivots and updates the border; returns -1, or the first pivot that was not positive. */
export const factorFront = (
  l: Float64Array,
  lAt: number,
  p: number,
  q: number,
  u: Float64Array,
  uAt: number,
): number => {
  const n = p + q;
  for (let k0 = 0; k0 < p; k0 += PANEL) {
    const k1 = Math.min(p, k0 + PANEL);
    for (let j = k0; j < k1; j += 4) {
      const rowJ = lAt + j * p;
      for (let i = j; i < n; i += 4) {
        const rowI = lAt + i * p;
        if (j > k0) {
          dots4x4(l, rowI, rowJ, p, k0, j);
          subtractTile(l, rowI + j, p);
        }
        if (i === j) {
          const bad = cholesky4(l, rowI + j, p);
          if (bad >= 0) return j + bad;
        } else solve4(l, rowI + j, rowJ + j, p);
      }
    }
    for (let j = k1; j < p; j += 4)
      for (let i = j; i < n; i += 4) {
        dots4x4(l, lAt + i * p, lAt + j * p, p, k0, k1);
        subtractTile(l, lAt + i * p + j, p);
      }
    for (let j = 0; j < q; j += 4)
      for (let i = j; i < q; i += 4) {
        dots4x4(l, lAt + (p + i) * p, lAt + (p + j) * p, p, k0, k1);
        subtractTile(u, uAt + i * q + j, q);
      }
  }
  return -1;
};

/** S = M·Mᵀ (m × m) for M of m rows of `length` (a multiple of 4), its row count padded with zeros to one of 4. */
export const rowProducts = (rows: Float64Array, m: number, length: number): Float64Array => {
  const s = new Float64Array(m * m);
  for (let i = 0; i < m; i += 4)
    for (let j = 0; j <= i; j += 4) {
      dots4x4(rows, i * length, j * length, length, 0, length);
      for (let r = 0; r < 4 && i + r < m; r++)
        for (let c = 0; c < 4 && j + c < m; c++)
          s[(i + r) * m + j + c] = s[(j + c) * m + i + r] = tile[4 * r + c];
    }
  return s;
};
