import { expect, test } from 'vitest';
import { normalBelow, normalQuantile } from '../../kernel/numerics/normal.ts';
import { lnStudent, weightOf } from './robust.ts';

/** Share of t's density, made whole by summing it, that lies below z. */
const studentBelow = (z: number, freedom: number): number => {
  const share = (to: number): number => {
    // z = tan: the whole line in one finite stretch.
    const [from, end, n] = [-Math.PI / 2, Math.atan(to), 40_000];
    let sum = 0;
    for (let i = 0; i < n; i++) {
      const a = from + ((end - from) * (i + 0.5)) / n;
      sum += Math.exp(lnStudent(Math.tan(a), freedom)) / Math.cos(a) ** 2;
    }
    return (sum * (end - from)) / n;
  };
  return share(z) / share(1e9);
};

// Percentage points of the t distribution as in every printed table (e.g. NIST/SEMATECH e-Handbook, 1.3.6.7.2).
test.each([
  [1, 0.9, 3.078],
  [1, 0.975, 12.706],
  [4, 0.9, 1.533],
  [4, 0.95, 2.132],
  [4, 0.975, 2.776],
  [4, 0.995, 4.604],
  [10, 0.9, 1.372],
  [10, 0.975, 2.228],
  [30, 0.975, 2.042],
])('t with %i degrees of freedom: %d lie below %d', (freedom, share, z) => {
  // three decimals of the table are worth up to 0.0005 × the density, 2e-4 at most
  expect(Math.abs(studentBelow(z, freedom) - share)).toBeLessThan(2e-4);
});

// The same handbook, 1.3.6.7.1, and the quantile function beside it.
test.each([
  [0, 0.5],
  [0.5, 0.69146],
  [1, 0.84134],
  [1.2816, 0.9],
  [1.96, 0.975],
  [2.5758, 0.995],
  [-1, 0.15866],
])('normal: below %d lie %d', (z, share) => {
  expect(Math.abs(normalBelow(z) - share)).toBeLessThan(1e-5);
  if (z !== 0) expect(normalQuantile(share)).toBeCloseTo(z, 3);
});

test('endless freedom is the normal; what is far off keeps little weight', () => {
  expect(lnStudent(2, Number.POSITIVE_INFINITY)).toBe(-2);
  expect(lnStudent(2, 1e9)).toBeCloseTo(-2, 6);
  expect(weightOf(0)).toBe(1);
  expect(weightOf(10)).toBeCloseTo(5 / 104, 12);
});
