import { expect, test } from 'vitest';
import { evenDraws, MOST_DIMENSIONS } from './even-draws.ts';
import { normalQuantile, quantileOf } from './normal.ts';

test('every coordinate of 2^k points falls once into each of 2^k cells (property A of the Sobol sequence)', () => {
  for (const bits of [3, 4, 6]) {
    const points = evenDraws(bits, MOST_DIMENSIONS, 7);
    for (let d = 0; d < MOST_DIMENSIONS; d++) {
      const cells = new Set(points.map((p) => Math.floor(p[d] * 2 ** bits)));
      expect(cells.size).toBe(2 ** bits);
    }
  }
});

test("unshifted and in Gray's order they are the points Joe and Kuo print for three dimensions (from memory)", () => {
  const printed = [
    [0, 0, 0],
    [0.5, 0.5, 0.5],
    [0.75, 0.25, 0.25],
    [0.25, 0.75, 0.75],
    [0.375, 0.375, 0.625],
    [0.875, 0.875, 0.125],
    [0.625, 0.125, 0.875],
    [0.125, 0.625, 0.375],
  ];
  const cells = evenDraws(3, 3, 5).map((p) => p.map((x) => Math.floor(8 * x)));
  // The first point is the shift itself.
  const unshifted = cells.map((p) => p.map((cell, d) => (cell ^ cells[0][d]) / 8));
  expect(printed.map((_, i) => unshifted[i ^ (i >> 1)])).toEqual(printed);
});

test('the mean product of six coordinates over 256 points is 2^-6, within 1 %', () => {
  // ∫ x1 x2 ... x6 = 2^-6 exactly.
  const points = evenDraws(8, 6, 11);
  const mean = points.reduce((sum, p) => sum + p.reduce((a, x) => a * x, 1), 0) / points.length;
  expect(Math.abs(mean * 64 - 1)).toBeLessThan(0.01);
});

test('the same seed gives the same points, another seed others', () => {
  expect(evenDraws(4, 5, 1)).toEqual(evenDraws(4, 5, 1));
  expect(evenDraws(4, 5, 1)).not.toEqual(evenDraws(4, 5, 2));
});

test('normal quantiles as tabled (Abramowitz & Stegun table 26.5; NIST handbook 1.3.6.7.1)', () => {
  for (const [p, z] of [
    [0.5, 0],
    [0.9, 1.281552],
    [0.975, 1.959964],
    [0.999, 3.090232],
    [0.001, -3.090232],
    [1e-12, -7.034484],
  ])
    expect(normalQuantile(p)).toBeCloseTo(z, 5);
});

test('quantiles of a sample by Hazen: the middle of ten numbers, and a tenth of them', () => {
  const ten = [10, 9, 8, 7, 6, 5, 4, 3, 2, 1];
  expect(quantileOf(ten, 0.5)).toBe(5.5);
  expect(quantileOf(ten, 0.1)).toBe(1.5);
  expect(quantileOf(ten, 0)).toBe(1);
  expect(quantileOf(ten, 1)).toBe(10);
});
