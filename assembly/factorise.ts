import { failed, meet, take } from './crew';
import { factorFront } from './front';
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
  BUILD_AT,
  CHILD,
  CHILD_START,
  COLUMN_START,
  FACTOR,
  FACTOR_AT,
  HELD,
  PART_START,
  PIVOTS,
  REST_AT,
  ROW,
  STACK,
  VALUES,
  whereOf,
  word,
} from './plan';

/**
 * Numeric phase of the multifrontal factorisation (the twin of src/kernel/numerics/multifrontal.ts): whole branches of
 * the tree go to whoever is free, the few parts above them are done by all together.
 */
export function factoriseShare(s: usize, thread: i32, threads: i32): void {
  const branches = load<i32>(s + BRANCHES);
  for (let b = take(); b < branches; b = take()) {
    const last = word(array(s, BRANCH_LAST), b);
    for (let part = word(array(s, BRANCH_FIRST), b); part <= last && !failed(); part++)
      onePart(s, part, thread, 0, 1);
  }
  meet(threads);
  const above = load<i32>(s + ABOVE_COUNT);
  for (let k = 0; k < above; k++) {
    if (failed()) break;
    onePart(s, word(array(s, ABOVE), k), thread, thread, threads);
  }
  meet(threads);
}

/** One part by `threads` together, of whom this is `member`; `thread` says whose scratch to use. */
function onePart(s: usize, part: i32, thread: i32, member: i32, threads: i32): void {
  const p = word(array(s, PIVOTS), part);
  const q = word(array(s, BORDERS), part);
  const l = array(s, FACTOR) + ((<usize>word(array(s, FACTOR_AT), part)) << 3);
  const u = array(s, STACK) + ((<usize>word(array(s, BUILD_AT), part)) << 3);
  const size = (<usize>(p + q) * <usize>p) << 3;
  const where = whereOf(s, thread);
  const first = word(array(s, PART_START), part);
  const end = word(array(s, PART_START), part + 1);
  for (let j = first; j < end; j++) store<i32>(where + ((<usize>j) << 2), 6 * (j - first));
  const border = array(s, BORDER);
  let at = p;
  for (let k = word(array(s, BORDER_START), part); k < word(array(s, BORDER_START), part + 1); k++, at += 6)
    store<i32>(where + ((<usize>word(border, k)) << 2), at);
  if (member === 0) {
    memory.fill(l, 0, size);
    memory.fill(u, 0, (<usize>q * <usize>q) << 3);
    gather(s, l, p, first, end, where);
  }
  meet(threads);
  const children = array(s, CHILD);
  for (let k = word(array(s, CHILD_START), part); k < word(array(s, CHILD_START), part + 1); k++) {
    extendAdd(s, word(children, k), l, p, u, q, where, member, threads);
    meet(threads);
  }
  factorFront(l, p, q, u, member, threads);
  if (failed()) return;
  meet(threads);
  if (member === 0) {
    const rest = array(s, STACK) + ((<usize>word(array(s, REST_AT), part)) << 3);
    if (rest !== u) memory.copy(rest, u, (<usize>q * <usize>q) << 3);
  }
}

/** Adds the matrix's own blocks into the pivot columns; held unknowns become identity rows, and so does padding. */
function gather(s: usize, l: usize, p: i32, first: i32, end: i32, where: usize): void {
  const group = (<usize>p) << 5;
  const held = array(s, HELD);
  for (let d = 6 * (end - first); d < p; d++) store<f64>(entry(l, group, d, d), 1);
  for (let j = first; j < end; j++) {
    const col = 6 * (j - first);
    const stop = word(array(s, COLUMN_START), j + 1);
    for (let k = word(array(s, COLUMN_START), j); k < stop; k++) {
      const i = word(array(s, ROW), k);
      const row = word(where, i);
      for (let r = 0; r < 6; r++) {
        if (load<u8>(held + 6 * i + r)) continue;
        const at = entry(l, group, row + r, col);
        const b = array(s, VALUES) + ((<usize>(36 * k + 6 * r)) << 3);
        for (let c = 0; c < 6; c++)
          if (!load<u8>(held + 6 * j + c)) store<f64>(at + 32 * c, load<f64>(b + 8 * c));
      }
    }
    for (let c = 0; c < 6; c++)
      if (load<u8>(held + 6 * j + c)) store<f64>(entry(l, group, col + c, col + c), 1);
  }
}

function entry(l: usize, group: usize, r: i32, c: i32): usize {
  return l + (<usize>r >> 2) * group + ((<usize>c) << 5) + ((<usize>(r & 3)) << 3);
}

/** Adds a child's border into the parent, every `threads`-th of its nodes. */
function extendAdd(
  s: usize,
  child: i32,
  l: usize,
  p: i32,
  u: usize,
  q: i32,
  where: usize,
  member: i32,
  threads: i32,
): void {
  const from = array(s, STACK) + ((<usize>word(array(s, REST_AT), child)) << 3);
  const own = (<usize>word(array(s, BORDERS), child)) << 5;
  const group = (<usize>p) << 5;
  const borderGroup = (<usize>q) << 5;
  const b0 = word(array(s, BORDER_START), child);
  const count = word(array(s, BORDER_START), child + 1) - b0;
  const border = array(s, BORDER) + ((<usize>b0) << 2);
  for (let a = member; a < count; a += threads) {
    const row = word(where, word(border, a));
    for (let r = 0; r < 6; r++) {
      const source = entry(from, own, 6 * a + r, 0);
      const intoL = entry(l, group, row + r, 0);
      const intoU: usize = row < p ? 0 : entry(u, borderGroup, row - p + r, 0) - ((<usize>p) << 5);
      for (let c = 0; c <= a; c++) {
        const col = word(where, word(border, c));
        const to = (col < p ? intoL : intoU) + ((<usize>col) << 5);
        const g = source + ((<usize>(6 * c)) << 5);
        const width = c === a ? r + 1 : 6;
        for (let e = 0; e < width; e++)
          store<f64>(to + 32 * e, load<f64>(to + 32 * e) + load<f64>(g + 32 * e));
      }
    }
  }
}
