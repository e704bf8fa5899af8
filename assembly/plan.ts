/** Where a factorisation's arrays stand: words of the subject a job is about (bytes from its address). */
export const PARTS: usize = 0;
export const NODES: usize = 4;
export const PART_START: usize = 8;
export const PARENT: usize = 12;
export const BORDER_START: usize = 16;
export const BORDER: usize = 20;
export const PIVOTS: usize = 24;
export const BORDERS: usize = 28;
/** In doubles from FACTOR and from STACK. */
export const FACTOR_AT: usize = 32;
export const BUILD_AT: usize = 36;
export const REST_AT: usize = 40;
export const FACTOR: usize = 44;
export const SINGLE: usize = 48;
export const STACK: usize = 52;
export const COLUMN_START: usize = 56;
export const ROW: usize = 60;
export const VALUES: usize = 64;
export const HELD: usize = 68;
/** Branches: parts [first, last] that nobody else touches; then the parts above them, one after another. */
export const BRANCHES: usize = 72;
export const BRANCH_FIRST: usize = 76;
export const BRANCH_LAST: usize = 80;
export const ABOVE: usize = 84;
export const ABOVE_COUNT: usize = 88;
/** One row of NODES words a thread: where each node stands in the front at work. */
export const WHERE: usize = 92;
/** Children of each part in the order they were done. */
export const CHILD_START: usize = 96;
export const CHILD: usize = 100;
/** Right side and solution, single precision, and room beside it. */
export const X: usize = 104;
export const WORK: usize = 108;

export function word(base: usize, i: i32): i32 {
  return load<i32>(base + ((<usize>i) << 2));
}
export function array(s: usize, which: usize): usize {
  return <usize>load<i32>(s + which);
}
