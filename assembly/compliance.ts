import { meet, putBack, take } from './crew';
import {
  array,
  BATCH_ENTRIES,
  BATCH_PARTS,
  BATCHES,
  BORDER_AT,
  BORDER_START,
  EIGHT,
  ENTRY_AT,
  ENTRY_VALUE,
  FACTOR,
  FACTOR_AT,
  LENGTH,
  PART_NUMBER,
  PART_START,
  PART_WHERE,
  PIVOTS,
  ROWS,
  TILES,
  word,
  workOf,
} from './plan';
import { tile } from './tile';

/**
 * S = (L⁻¹E)ᵀ(L⁻¹E), double precision (the twin of src/kernel/numerics/compliance.ts). Eight columns go together as a
 * batch; a batch is one thread's, packed 8 numbers an unknown. L⁻¹E is kept in row groups of four, as tile() wants
 * them, and the tiles of -S, lower half, are shared out at the end: group i against j at TILES + 128·(i·groups + j).
 */
export function complianceShare(s: usize, thread: i32, threads: i32): void {
  const length = array(s, LENGTH);
  const batches = load<i32>(s + BATCHES);
  const x = array(s, EIGHT) + <usize>thread * (length << 6);
  for (let b = take(); b < batches; b = take()) {
    memory.fill(x, 0, length << 6);
    for (let e = word(array(s, BATCH_ENTRIES), b); e < word(array(s, BATCH_ENTRIES), b + 1); e++)
      store<f64>(
        x + ((<usize>word(array(s, ENTRY_AT), e)) << 3),
        load<f64>(array(s, ENTRY_VALUE) + ((<usize>e) << 3)),
      );
    for (let k = word(array(s, BATCH_PARTS), b); k < word(array(s, BATCH_PARTS), b + 1); k++)
      forwardPart(
        s,
        word(array(s, PART_NUMBER), k),
        x + ((<usize>word(array(s, PART_WHERE), k)) << 6),
        x,
        array(s, BORDER_AT),
        workOf(s, thread),
      );
    keepEight(x, array(s, ROWS) + <usize>b * (length << 6), length);
  }
  meet(threads);
  if (thread === 0) putBack();
  meet(threads);
  const groups = 2 * batches;
  for (let i = take(); i < groups; i = take())
    products(array(s, ROWS), <usize>i, <usize>groups, length, array(s, TILES));
  meet(threads);
}

function forwardPart(s: usize, part: i32, mine: usize, x: usize, borderAt: usize, w: usize): void {
  const p = <usize>word(array(s, PIVOTS), part);
  const l = array(s, FACTOR) + ((<usize>word(array(s, FACTOR_AT), part)) << 3);
  const group = p << 5;
  const real = <usize>(6 * (word(array(s, PART_START), part + 1) - word(array(s, PART_START), part)));
  memory.copy(w, mine, real << 6);
  memory.fill(w + (real << 6), 0, (p - real) << 6);
  for (let r: usize = 0; r < p; r += 4) {
    const a = l + (r >> 2) * group;
    const c = w + (r << 6);
    if (r > 0) fourRows(c, a, w, r);
    triangle(c, a + (r << 5));
  }
  memory.copy(mine, w, real << 6);
  const b0 = word(array(s, BORDER_START), part);
  const rows = <usize>(6 * (word(array(s, BORDER_START), part + 1) - b0));
  const room = w + (p << 6);
  memory.fill(room, 0, ((rows + 3) & ~3) << 6);
  for (let r: usize = 0; r < rows; r += 4) fourRows(room + (r << 6), l + ((p + r) >> 2) * group, w, p);
  for (let r: usize = 0; r < rows; r += 6) {
    const to = x + ((<usize>word(borderAt, b0 + <i32>(r / 6))) << 6);
    const from = room + (r << 6);
    for (let o: usize = 0; o < 384; o += 16)
      v128.store(to + o, f64x2.add(v128.load(to + o), v128.load(from + o)));
  }
}

/** Four rows of eight: c -= A·x over n unknowns. */
function fourRows(c: usize, a: usize, x: usize, n: usize): void {
  rowsTimes(c, a, x, n);
  rowsTimes(c + 32, a, x + 32, n);
}

/** Four rows of four columns, rows 64 bytes apart. */
function rowsTimes(c: usize, a: usize, x: usize, n: usize): void {
  let c00 = f64x2.splat(0);
  let c01 = c00;
  let c10 = c00;
  let c11 = c00;
  let c20 = c00;
  let c21 = c00;
  let c30 = c00;
  let c31 = c00;
  const end = a + (n << 5);
  while (a < end) {
    const x0 = v128.load(x);
    const x1 = v128.load(x, 16);
    let y = v128.load64_splat(a);
    c00 = f64x2.add(c00, f64x2.mul(y, x0));
    c01 = f64x2.add(c01, f64x2.mul(y, x1));
    y = v128.load64_splat(a, 8);
    c10 = f64x2.add(c10, f64x2.mul(y, x0));
    c11 = f64x2.add(c11, f64x2.mul(y, x1));
    y = v128.load64_splat(a, 16);
    c20 = f64x2.add(c20, f64x2.mul(y, x0));
    c21 = f64x2.add(c21, f64x2.mul(y, x1));
    y = v128.load64_splat(a, 24);
    c30 = f64x2.add(c30, f64x2.mul(y, x0));
    c31 = f64x2.add(c31, f64x2.mul(y, x1));
    a += 32;
    x += 64;
  }
  v128.store(c, f64x2.sub(v128.load(c), c00));
  v128.store(c, f64x2.sub(v128.load(c, 16), c01), 16);
  v128.store(c, f64x2.sub(v128.load(c, 64), c10), 64);
  v128.store(c, f64x2.sub(v128.load(c, 80), c11), 80);
  v128.store(c, f64x2.sub(v128.load(c, 128), c20), 128);
  v128.store(c, f64x2.sub(v128.load(c, 144), c21), 144);
  v128.store(c, f64x2.sub(v128.load(c, 192), c30), 192);
  v128.store(c, f64x2.sub(v128.load(c, 208), c31), 208);
}

/** Solves four rows of eight against the factored tile at `d`. */
function triangle(c: usize, d: usize): void {
  for (let r: usize = 0; r < 4; r++) {
    const over = f64x2.splat(1.0 / load<f64>(d + 40 * r));
    for (let o: usize = 0; o < 64; o += 16) {
      let v = v128.load(c + (r << 6) + o);
      for (let k: usize = 0; k < r; k++)
        v = f64x2.sub(v, f64x2.mul(v128.load64_splat(d + 32 * k + 8 * r), v128.load(c + (k << 6) + o)));
      v128.store(c + (r << 6) + o, f64x2.mul(v, over));
    }
  }
}

/** Takes eight packed columns apart into two row groups of four, as tile() wants them. */
function keepEight(x: usize, to: usize, length: usize): void {
  const other = to + (length << 5);
  for (let k: usize = 0; k < length; k++) {
    v128.store(to + (k << 5), v128.load(x + (k << 6)));
    v128.store(to + (k << 5), v128.load(x + (k << 6), 16), 16);
    v128.store(other + (k << 5), v128.load(x + (k << 6), 32));
    v128.store(other + (k << 5), v128.load(x + (k << 6), 48), 16);
  }
}

function products(rows: usize, i: usize, groups: usize, length: usize, tiles: usize): void {
  for (let j: usize = 0; j <= i; j++) {
    const c = tiles + ((i * groups + j) << 7);
    memory.fill(c, 0, 128);
    tile(c, rows + i * (length << 5), rows + j * (length << 5), length);
  }
}
