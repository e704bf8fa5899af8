/** Where a factorisation's arrays stand: words of the subject a job is about (bytes from its address). */
export const PARTS: usize = 0;
export const NODES: usize = 4;
export const PART_START: usize = 8;
export const BORDER_START: usize = 12;
export const BORDER: usize = 16;
export const PIVOTS: usize = 20;
export const BORDERS: usize = 24;
/** In doubles from FACTOR and from STACK. */
export const FACTOR_AT: usize = 28;
export const BUILD_AT: usize = 32;
export const REST_AT: usize = 36;
export const FACTOR: usize = 40;
export const STACK: usize = 44;
export const COLUMN_START: usize = 48;
export const ROW: usize = 52;
export const VALUES: usize = 56;
export const HELD: usize = 60;
/** Branches: parts [first, last] that nobody else touches; then the parts above them, one after another. */
export const BRANCHES: usize = 64;
export const BRANCH_FIRST: usize = 68;
export const BRANCH_LAST: usize = 72;
export const ABOVE: usize = 76;
export const ABOVE_COUNT: usize = 80;
/** Children of each part in the order they were done. */
export const CHILD_START: usize = 84;
export const CHILD: usize = 88;
/** A thread's own, one row each: where each node stands in the front at work; what its branches add to X; room. */
export const WHERE: usize = 92;
export const OWN_X: usize = 96;
export const WORK: usize = 100;
export const WORK_BYTES: usize = 104;
/** Right side and solution. */
export const X: usize = 108;
/** Batches of eight columns: see compliance.ts. */
export const BATCHES: usize = 112;
export const BATCH_ENTRIES: usize = 116;
export const ENTRY_AT: usize = 120;
export const ENTRY_VALUE: usize = 124;
export const BATCH_PARTS: usize = 128;
export const PART_NUMBER: usize = 132;
export const PART_WHERE: usize = 136;
export const BORDER_AT: usize = 140;
export const LENGTH: usize = 144;
export const EIGHT: usize = 148;
export const ROWS: usize = 152;
export const TILES: usize = 156;

/** The wall: see assemble.ts. */
export const POSITIONS: usize = 160;
export const THICKNESS: usize = 164;
export const MODULUS: usize = 168;
export const TRIANGLES: usize = 172;
export const BLOCK_OF: usize = 176;
/** Triangles of each branch, then those with two corners above. */
export const SHARE_START: usize = 180;
export const SHARE: usize = 184;
/** Bits of the pairs (00 10 11 20 21 22) of each triangle that lie above altogether. */
export const PAIRS_ABOVE: usize = 188;
/** A double. */
export const POISSON: usize = 192;

export function word(base: usize, i: i32): i32 {
  return load<i32>(base + ((<usize>i) << 2));
}
export function array(s: usize, which: usize): usize {
  return <usize>load<i32>(s + which);
}
/** A thread's row of words, one a node. */
export function whereOf(s: usize, thread: i32): usize {
  return array(s, WHERE) + ((<usize>(thread * load<i32>(s + NODES))) << 2);
}
/** A thread's row of six numbers a node. */
export function ownOf(s: usize, thread: i32): usize {
  return array(s, OWN_X) + <usize>(thread * load<i32>(s + NODES)) * 48;
}
export function workOf(s: usize, thread: i32): usize {
  return array(s, WORK) + <usize>thread * array(s, WORK_BYTES);
}
