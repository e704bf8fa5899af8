import { meet, take } from './crew';
import { stiffness } from './element';
import { BLOCKS } from './lanes';
import {
  ABOVE,
  ABOVE_COUNT,
  array,
  BLOCK_OF,
  BRANCH_FIRST,
  BRANCH_LAST,
  BRANCHES,
  COLUMN_START,
  MODULUS,
  PAIRS_ABOVE,
  PART_START,
  POISSON,
  POSITIONS,
  SHARE,
  SHARE_START,
  THICKNESS,
  TRIANGLES,
  VALUES,
  word,
  workOf,
} from './plan';

/**
 * The stiffness of a wall (the twin of assemble() in src/kernel/shell/system.ts). A triangle with a corner in a branch
 * is that branch's: no other writes its blocks, but for those between corners above, which come at the end.
 */
export function assembleShare(s: usize, thread: i32, threads: i32): void {
  const branches = load<i32>(s + BRANCHES);
  const w = workOf(s, thread);
  for (let b = take(); b < branches; b = take()) {
    clear(s, word(array(s, BRANCH_FIRST), b), word(array(s, BRANCH_LAST), b));
    share(s, b, w, 0);
  }
  meet(threads);
  if (thread === 0) {
    for (let k = 0; k < load<i32>(s + ABOVE_COUNT); k++) {
      const part = word(array(s, ABOVE), k);
      clear(s, part, part);
    }
    share(s, branches, w, 63);
  }
  meet(threads);
}

/** Zeroes the matrix columns of some parts. */
function clear(s: usize, first: i32, last: i32): void {
  const columns = array(s, COLUMN_START);
  const from = word(columns, word(array(s, PART_START), first));
  const to = word(columns, word(array(s, PART_START), last + 1));
  memory.fill(array(s, VALUES) + <usize>from * 288, 0, <usize>(to - from) * 288);
}

/** Adds the triangles of one share, two at a time; `flip` 63 takes the pairs above, 0 the others. */
function share(s: usize, b: i32, w: usize, flip: i32): void {
  const list = array(s, SHARE);
  const end = word(array(s, SHARE_START), b + 1);
  const poisson = load<f64>(s + POISSON);
  for (let k = word(array(s, SHARE_START), b); k < end; k += 2) {
    const t0 = word(list, k);
    const t1 = k + 1 < end ? word(list, k + 1) : t0;
    corners(s, t0, w);
    corners(s, t1, w + 8);
    stiffness(w, both(array(s, THICKNESS), t0, t1), both(array(s, MODULUS), t0, t1), poisson);
    scatter(s, t0, w + BLOCKS, flip);
    if (k + 1 < end) scatter(s, t1, w + BLOCKS + 8, flip);
  }
}

function both(values: usize, t0: i32, t1: i32): v128 {
  return f64x2.replace_lane(
    f64x2.splat(load<f64>(values + ((<usize>t0) << 3))),
    1,
    load<f64>(values + ((<usize>t1) << 3)),
  );
}

function corners(s: usize, t: i32, to: usize): void {
  for (let k = 0; k < 3; k++) {
    const p = array(s, POSITIONS) + <usize>word(array(s, TRIANGLES), 3 * t + k) * 24;
    for (let c: usize = 0; c < 3; c++) store<f64>(to + ((<usize>(3 * k) + c) << 4), load<f64>(p + (c << 3)));
  }
}

function scatter(s: usize, t: i32, blocks: usize, flip: i32): void {
  const above = <i32>load<u8>(array(s, PAIRS_ABOVE) + t);
  for (let k = 0; k < 6; k++) {
    if ((((above ^ flip) >> k) & 1) !== 0) continue;
    const target = word(array(s, BLOCK_OF), 6 * t + k);
    const from = blocks + <usize>(36 * k) * 16;
    if (target >= 0) {
      const to = array(s, VALUES) + <usize>target * 288;
      for (let e: usize = 0; e < 36; e++)
        store<f64>(to + (e << 3), load<f64>(to + (e << 3)) + load<f64>(from + (e << 4)));
    } else {
      const to = array(s, VALUES) + <usize>(-1 - target) * 288;
      for (let r: usize = 0; r < 6; r++)
        for (let q: usize = 0; q < 6; q++)
          store<f64>(
            to + ((6 * r + q) << 3),
            load<f64>(to + ((6 * r + q) << 3)) + load<f64>(from + ((6 * q + r) << 4)),
          );
    }
  }
}
