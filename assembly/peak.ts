import { tile } from './tile';

/** Groups of four rows and their length in the dense product below: all of it stays in the nearest cache. */
const GROUPS: usize = 8;
const LENGTH: usize = 96;

/**
 * The best these loops can do: the same small dense product, `times` over, of numbers that never leave the cache.
 * `at` is room for 8·8 tiles and 8 groups of 96 columns (33 kB). What the factorisation is measured against.
 */
export function denseProduct(at: usize, times: i32): void {
  const rows = at + GROUPS * GROUPS * 128;
  for (let t = 0; t < times; t++)
    for (let i: usize = 0; i < GROUPS; i++)
      for (let j: usize = 0; j < GROUPS; j++)
        tile(at + (i * GROUPS + j) * 128, rows + i * LENGTH * 32, rows + j * LENGTH * 32, LENGTH);
}
