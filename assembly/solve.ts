import {
  array,
  BORDER,
  BORDER_START,
  BORDERS,
  FACTOR_AT,
  PART_START,
  PARTS,
  PIVOTS,
  SINGLE,
  WORK,
  word,
  X,
} from './plan';

/**
 * Solves with the factor in single precision (the twin of src/kernel/numerics/front-solve.ts): it waits on memory, and
 * half the bytes take little more than half the time. X holds the right side and becomes the solution, f32.
 */
export function solve(s: usize): void {
  const parts = load<i32>(s + PARTS);
  for (let part = 0; part < parts; part++) forward(s, part);
  for (let part = parts - 1; part >= 0; part--) backward(s, part);
}

/** Sum over k < n of group column k times w[k]: four sums at once wait less on one another. */
function along(a: usize, w: usize, n: usize): v128 {
  let s0 = f32x4.splat(0);
  let s1 = s0;
  let s2 = s0;
  let s3 = s0;
  const end = w + (n << 2);
  while (w < end) {
    s0 = f32x4.add(s0, f32x4.mul(v128.load(a), v128.load32_splat(w)));
    s1 = f32x4.add(s1, f32x4.mul(v128.load(a, 16), v128.load32_splat(w, 4)));
    s2 = f32x4.add(s2, f32x4.mul(v128.load(a, 32), v128.load32_splat(w, 8)));
    s3 = f32x4.add(s3, f32x4.mul(v128.load(a, 48), v128.load32_splat(w, 12)));
    a += 64;
    w += 16;
  }
  return f32x4.add(f32x4.add(s0, s1), f32x4.add(s2, s3));
}

function subtract(at: usize, v: f32): void {
  store<f32>(at, load<f32>(at) - v);
}

function forward(s: usize, part: i32): void {
  const p = <usize>word(array(s, PIVOTS), part);
  const l = array(s, SINGLE) + ((<usize>word(array(s, FACTOR_AT), part)) << 2);
  const group = p << 4;
  const first = word(array(s, PART_START), part);
  const real = <usize>(6 * (word(array(s, PART_START), part + 1) - first));
  const x = array(s, X) + ((<usize>(6 * first)) << 2);
  const w = array(s, WORK);
  memory.copy(w, x, real << 2);
  for (let r = real; r < p; r++) store<f32>(w + (r << 2), 0);
  for (let r: usize = 0; r < p; r += 4) {
    const a = l + (r >> 2) * group;
    const v = f32x4.sub(v128.load(w + (r << 2)), along(a, w, r));
    const d = a + (r << 4);
    const v0 = f32x4.extract_lane(v, 0) / load<f32>(d);
    const v1 = (f32x4.extract_lane(v, 1) - load<f32>(d, 4) * v0) / load<f32>(d, 20);
    const v2 = (f32x4.extract_lane(v, 2) - load<f32>(d, 8) * v0 - load<f32>(d, 24) * v1) / load<f32>(d, 40);
    const v3 =
      (f32x4.extract_lane(v, 3) - load<f32>(d, 12) * v0 - load<f32>(d, 28) * v1 - load<f32>(d, 44) * v2) /
      load<f32>(d, 60);
    store<f32>(w + (r << 2), v0);
    store<f32>(w + (r << 2), v1, 4);
    store<f32>(w + (r << 2), v2, 8);
    store<f32>(w + (r << 2), v3, 12);
  }
  memory.copy(x, w, real << 2);
  const count = <usize>(6 * (word(array(s, BORDER_START), part + 1) - word(array(s, BORDER_START), part)));
  const border = array(s, BORDER) + ((<usize>word(array(s, BORDER_START), part)) << 2);
  const to = w + (p << 2);
  for (let r: usize = 0; r < count; r += 4)
    v128.store(to + (r << 2), along(l + ((p + r) >> 2) * group, w, p));
  for (let r: usize = 0; r < count; r += 6) {
    const o = array(s, X) + <usize>word(border, <i32>(r / 6)) * 24;
    for (let c: usize = 0; c < 24; c += 4) subtract(o + c, load<f32>(to + (r << 2) + c));
  }
}

function backward(s: usize, part: i32): void {
  const p = <usize>word(array(s, PIVOTS), part);
  const q = <usize>word(array(s, BORDERS), part);
  const l = array(s, SINGLE) + ((<usize>word(array(s, FACTOR_AT), part)) << 2);
  const group = p << 4;
  const first = word(array(s, PART_START), part);
  const real = <usize>(6 * (word(array(s, PART_START), part + 1) - first));
  const x = array(s, X) + ((<usize>(6 * first)) << 2);
  const y = array(s, WORK);
  const sums = y + ((p + q) << 2);
  const count = <usize>(6 * (word(array(s, BORDER_START), part + 1) - word(array(s, BORDER_START), part)));
  const border = array(s, BORDER) + ((<usize>word(array(s, BORDER_START), part)) << 2);
  for (let r: usize = 0; r < count; r += 6)
    memory.copy(y + (r << 2), array(s, X) + <usize>word(border, <i32>(r / 6)) * 24, 24);
  for (let r = count; r < q; r++) store<f32>(y + (r << 2), 0);
  memory.fill(sums, 0, p << 4);
  let r: usize = 0;
  for (; r + 4 < q; r += 8)
    addTwo(sums, l + ((p + r) >> 2) * group, group, v128.load(y + (r << 2)), v128.load(y + (r << 2), 16), p);
  if (r < q) addOne(sums, l + ((p + r) >> 2) * group, v128.load(y + (r << 2)), p);
  memory.copy(y, x, real << 2);
  for (let k = real; k < p; k++) store<f32>(y + (k << 2), 0);
  for (let left = p; left > 0; left -= 4) {
    const g = left - 4;
    const a = l + (g >> 2) * group;
    const d = a + (g << 4);
    const v3 = (load<f32>(y + (g << 2), 12) - across(sums + (g << 4) + 48)) / load<f32>(d, 60);
    const v2 =
      (load<f32>(y + (g << 2), 8) - across(sums + (g << 4) + 32) - load<f32>(d, 44) * v3) / load<f32>(d, 40);
    const v1 =
      (load<f32>(y + (g << 2), 4) -
        across(sums + (g << 4) + 16) -
        load<f32>(d, 28) * v3 -
        load<f32>(d, 24) * v2) /
      load<f32>(d, 20);
    const v0 =
      (load<f32>(y + (g << 2)) -
        across(sums + (g << 4)) -
        load<f32>(d, 12) * v3 -
        load<f32>(d, 8) * v2 -
        load<f32>(d, 4) * v1) /
      load<f32>(d);
    store<f32>(y + (g << 2), v0);
    store<f32>(y + (g << 2), v1, 4);
    store<f32>(y + (g << 2), v2, 8);
    store<f32>(y + (g << 2), v3, 12);
    addOne(sums, a, v128.load(y + (g << 2)), g);
  }
  memory.copy(x, y, real << 2);
}

/** sums[k] += a[k]·v for k < n, four rows side by side; they are added up at the end. */
function addOne(sums: usize, a: usize, v: v128, n: usize): void {
  const end = a + (n << 4);
  while (a < end) {
    v128.store(sums, f32x4.add(v128.load(sums), f32x4.mul(v128.load(a), v)));
    a += 16;
    sums += 16;
  }
}
function addTwo(sums: usize, a: usize, group: usize, v: v128, w: v128, n: usize): void {
  let b = a + group;
  const end = a + (n << 4);
  while (a < end) {
    v128.store(
      sums,
      f32x4.add(v128.load(sums), f32x4.add(f32x4.mul(v128.load(a), v), f32x4.mul(v128.load(b), w))),
    );
    a += 16;
    b += 16;
    sums += 16;
  }
}
function across(at: usize): f32 {
  return load<f32>(at) + load<f32>(at, 4) + (load<f32>(at, 8) + load<f32>(at, 12));
}
