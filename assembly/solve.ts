import { meet, putBack, take } from './crew';
import {
  ABOVE,
  ABOVE_COUNT,
  array,
  BORDER,
  BORDER_START,
  BORDERS,
  BRANCH_FIRST,
  BRANCH_LAST,
  BRANCHES,
  FACTOR,
  FACTOR_AT,
  NODES,
  ownOf,
  PART_START,
  PIVOTS,
  word,
  workOf,
  X,
} from './plan';

/**
 * Solves with the factor (the twin of src/kernel/numerics/front-solve.ts). X holds the right side and becomes the
 * solution. Branches go to whoever is free; what they give to the parts above is gathered by each thread by itself.
 *
 * Tried: a copy of the factor in single precision for the solves, as the plain engine keeps. It reads half the bytes,
 * but conjugate gradients around it took 455 rounds where these take 178 (a tube of 20,000 triangles on its side).
 */
export function solveShare(s: usize, thread: i32, threads: i32): void {
  const x = array(s, X);
  const own = thread === 0 ? x : ownOf(s, thread);
  const w = workOf(s, thread);
  if (thread > 0) memory.fill(own, 0, <usize>load<i32>(s + NODES) * 48);
  const branches = load<i32>(s + BRANCHES);
  for (let b = take(); b < branches; b = take()) {
    const last = word(array(s, BRANCH_LAST), b);
    for (let part = word(array(s, BRANCH_FIRST), b); part <= last; part++) {
      if (thread > 0) addOwn(s, part, own);
      forward(s, part, own, w);
    }
  }
  meet(threads);
  if (thread === 0) {
    putBack();
    const above = load<i32>(s + ABOVE_COUNT);
    for (let k = 0; k < above; k++) {
      const part = word(array(s, ABOVE), k);
      for (let t = 1; t < threads; t++) addOwn(s, part, ownOf(s, t));
      forward(s, part, x, w);
    }
    for (let k = above - 1; k >= 0; k--) backward(s, word(array(s, ABOVE), k), w);
  }
  meet(threads);
  for (let b = take(); b < branches; b = take()) {
    const first = word(array(s, BRANCH_FIRST), b);
    for (let part = word(array(s, BRANCH_LAST), b); part >= first; part--) backward(s, part, w);
  }
  meet(threads);
}

/** Adds what a thread gathered for a part's pivots to X. */
function addOwn(s: usize, part: i32, own: usize): void {
  const end = <usize>word(array(s, PART_START), part + 1) * 48;
  for (let o = <usize>word(array(s, PART_START), part) * 48; o < end; o += 16)
    v128.store(array(s, X) + o, f64x2.add(v128.load(array(s, X) + o), v128.load(own + o)));
}

/** out[0..3] = Σ over k < n of group column k times w[k]; two sums at once wait less on one another. */
function along(a: usize, w: usize, n: usize, out: usize): void {
  let s0 = f64x2.splat(0);
  let s1 = s0;
  let t0 = s0;
  let t1 = s0;
  const end = w + (n << 3);
  while (w < end) {
    let v = v128.load64_splat(w);
    s0 = f64x2.add(s0, f64x2.mul(v128.load(a), v));
    s1 = f64x2.add(s1, f64x2.mul(v128.load(a, 16), v));
    v = v128.load64_splat(w, 8);
    t0 = f64x2.add(t0, f64x2.mul(v128.load(a, 32), v));
    t1 = f64x2.add(t1, f64x2.mul(v128.load(a, 48), v));
    a += 64;
    w += 16;
  }
  v128.store(out, f64x2.add(s0, t0));
  v128.store(out, f64x2.add(s1, t1), 16);
}

/** Pivots of one part, then what they give to its border, taken off `onto`. `w` is room for a front. */
function forward(s: usize, part: i32, onto: usize, w: usize): void {
  const p = <usize>word(array(s, PIVOTS), part);
  const l = array(s, FACTOR) + ((<usize>word(array(s, FACTOR_AT), part)) << 3);
  const group = p << 5;
  const first = word(array(s, PART_START), part);
  const real = <usize>(6 * (word(array(s, PART_START), part + 1) - first));
  const own = array(s, X) + ((<usize>(6 * first)) << 3);
  memory.copy(w, own, real << 3);
  for (let r = real; r < p; r++) store<f64>(w + (r << 3), 0);
  const to = w + (p << 3);
  for (let r: usize = 0; r < p; r += 4) {
    const a = l + (r >> 2) * group;
    const at = w + (r << 3);
    along(a, w, r, to);
    const d = a + (r << 5);
    const v0 = (load<f64>(at) - load<f64>(to)) / load<f64>(d);
    const v1 = (load<f64>(at, 8) - load<f64>(to, 8) - load<f64>(d, 8) * v0) / load<f64>(d, 40);
    const v2 =
      (load<f64>(at, 16) - load<f64>(to, 16) - load<f64>(d, 16) * v0 - load<f64>(d, 48) * v1) /
      load<f64>(d, 80);
    const v3 =
      (load<f64>(at, 24) -
        load<f64>(to, 24) -
        load<f64>(d, 24) * v0 -
        load<f64>(d, 56) * v1 -
        load<f64>(d, 88) * v2) /
      load<f64>(d, 120);
    store<f64>(at, v0);
    store<f64>(at, v1, 8);
    store<f64>(at, v2, 16);
    store<f64>(at, v3, 24);
  }
  memory.copy(own, w, real << 3);
  const count = <usize>(6 * (word(array(s, BORDER_START), part + 1) - word(array(s, BORDER_START), part)));
  const border = array(s, BORDER) + ((<usize>word(array(s, BORDER_START), part)) << 2);
  for (let r: usize = 0; r < count; r += 4) along(l + ((p + r) >> 2) * group, w, p, to + (r << 3));
  for (let r: usize = 0; r < count; r += 6) {
    const o = onto + <usize>word(border, <i32>(r / 6)) * 48;
    for (let c: usize = 0; c < 48; c += 16)
      v128.store(o + c, f64x2.sub(v128.load(o + c), v128.load(to + (r << 3) + c)));
  }
}

/** Pivots of one part from those of its border. */
function backward(s: usize, part: i32, y: usize): void {
  const p = <usize>word(array(s, PIVOTS), part);
  const q = <usize>word(array(s, BORDERS), part);
  const l = array(s, FACTOR) + ((<usize>word(array(s, FACTOR_AT), part)) << 3);
  const group = p << 5;
  const first = word(array(s, PART_START), part);
  const real = <usize>(6 * (word(array(s, PART_START), part + 1) - first));
  const x = array(s, X) + ((<usize>(6 * first)) << 3);
  const sums = y + ((p + q) << 3);
  const count = <usize>(6 * (word(array(s, BORDER_START), part + 1) - word(array(s, BORDER_START), part)));
  const border = array(s, BORDER) + ((<usize>word(array(s, BORDER_START), part)) << 2);
  for (let r: usize = 0; r < count; r += 6)
    memory.copy(y + (r << 3), array(s, X) + <usize>word(border, <i32>(r / 6)) * 48, 48);
  for (let r = count; r < q; r++) store<f64>(y + (r << 3), 0);
  memory.fill(sums, 0, p << 4);
  for (let r: usize = 0; r < q; r += 4) addGroup(sums, l + ((p + r) >> 2) * group, y + (r << 3), p);
  memory.copy(y, x, real << 3);
  for (let k = real; k < p; k++) store<f64>(y + (k << 3), 0);
  for (let left = p; left > 0; left -= 4) {
    const g = left - 4;
    const a = l + (g >> 2) * group;
    const d = a + (g << 5);
    const at = y + (g << 3);
    const sum = sums + (g << 4);
    const v3 = (load<f64>(at, 24) - across(sum + 48)) / load<f64>(d, 120);
    const v2 = (load<f64>(at, 16) - across(sum + 32) - load<f64>(d, 88) * v3) / load<f64>(d, 80);
    const v1 =
      (load<f64>(at, 8) - across(sum + 16) - load<f64>(d, 56) * v3 - load<f64>(d, 48) * v2) /
      load<f64>(d, 40);
    const v0 =
      (load<f64>(at) - across(sum) - load<f64>(d, 24) * v3 - load<f64>(d, 16) * v2 - load<f64>(d, 8) * v1) /
      load<f64>(d);
    store<f64>(at, v0);
    store<f64>(at, v1, 8);
    store<f64>(at, v2, 16);
    store<f64>(at, v3, 24);
    addGroup(sums, a, at, g);
  }
  memory.copy(x, y, real << 3);
}

/** sums[k] += a[k]·v for k < n: rows 0, 2 and 1, 3 of a group side by side; they are added up at the end. */
function addGroup(sums: usize, a: usize, at: usize, n: usize): void {
  const v = v128.load(at);
  const w = v128.load(at, 16);
  const end = a + (n << 5);
  while (a < end) {
    v128.store(
      sums,
      f64x2.add(v128.load(sums), f64x2.add(f64x2.mul(v128.load(a), v), f64x2.mul(v128.load(a, 16), w))),
    );
    a += 32;
    sums += 16;
  }
}

function across(at: usize): f64 {
  return load<f64>(at) + load<f64>(at, 8);
}
