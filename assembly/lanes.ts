/** Two triangles at a time, one in each lane of a vector; their room is slots of 16 bytes. */
/** How room is used. */
export const COORDINATES: usize = 0; // 9: x y z of the three corners
export const AXES: usize = 144; // 9
export const MEMBRANE: usize = 288; // 81
export const BENDING: usize = 1584; // 81
export const LUMPING: usize = 2880; // 27
export const THETA: usize = 3312; // 27
export const STRAIN: usize = 3744; // 9
export const NATURAL: usize = 3888; // 9
export const Q: usize = 4032; // 27
export const MIDDLE: usize = 4464; // 9
export const K_THETA: usize = 4608; // 9
export const K_TIMES: usize = 4752; // 27
export const SCRATCH: usize = 5184; // 9
export const CURVATURE: usize = 5328; // 27
export const TURNED: usize = 5760; // 9
export const BLOCKS: usize = 5904; // 6 × 36
export const ELEMENT_BYTES: usize = 9360;

export function c(v: f64): v128 {
  return f64x2.splat(v);
}
export function add(a: v128, b: v128): v128 {
  return f64x2.add(a, b);
}
export function sub(a: v128, b: v128): v128 {
  return f64x2.sub(a, b);
}
export function mul(a: v128, b: v128): v128 {
  return f64x2.mul(a, b);
}
export function neg(a: v128): v128 {
  return f64x2.neg(a);
}
export function put(at: usize, slot: usize, v: v128): void {
  v128.store(at + (slot << 4), v);
}
export function get(at: usize, slot: usize): v128 {
  return v128.load(at + (slot << 4));
}
