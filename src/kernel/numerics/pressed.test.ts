import { expect, test } from 'vitest';
import { inverse, leastAbove } from './bounded.ts';
import { leastPressed } from './pressed.ts';

const random = (seed: number) => () => {
  seed = (Math.imul(1664525, seed) + 1013904223) >>> 0;
  return seed / 2147483648 - 1;
};

/** A random positive definite matrix, its inverse under added springs, and a load. */
const body = (n: number, next: () => number, spring: Float64Array) => {
  const g = Float64Array.from({ length: n * n }, next);
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      for (let k = 0; k < n; k++) a[i * n + j] += g[k * n + i] * g[k * n + j];
      if (i === j) a[i * n + j] += 0.05;
    }
  const stiff = a.slice();
  for (let i = 0; i < n; i++) stiff[i * n + i] += spring[i];
  const compliance = inverse(stiff, n) as Float64Array;
  const load = Float64Array.from({ length: n }, next);
  const alone = load.map((_, i) => load.reduce((s, f, j) => s + compliance[i * n + j] * f, 0));
  return { a, compliance, load, alone };
};

test('forces found from the compliance give the speeds found from the stiffness, with springs taken out again', () => {
  // leastAbove is held by every set of supports tried one by one (bounded.test.ts).
  const next = random(11);
  const n = 12;
  for (let trial = 0; trial < 40; trial++) {
    const spring = Float64Array.from({ length: n }, () => (next() > 0 ? 0.7 : 0));
    const { a, compliance, load, alone } = body(n, next, spring);
    const low = Float64Array.from({ length: n }, () => 0.3 * next());
    const exact = leastAbove(a, load, low, new Uint8Array(n));
    const atBound = Uint8Array.from(spring, (k) => (k > 0 ? 1 : 0));
    const found = leastPressed({ compliance, alone, low, spring, atBound });
    if (!exact || !found) throw new Error('no answer');
    for (let i = 0; i < n; i++) {
      expect(Math.abs(found.speed[i] - exact.x[i])).toBeLessThan(1e-7);
      expect(found.atBound[i]).toBe(exact.atBound[i]);
    }
  }
});

test('each point is either clear and free of push, or at its bound and pushed', () => {
  const next = random(7);
  const n = 30;
  const spring = new Float64Array(n);
  const { compliance, alone } = body(n, next, spring);
  const low = Float64Array.from({ length: n }, () => next());
  const found = leastPressed({ compliance, alone, low, spring, atBound: new Uint8Array(n).fill(1) });
  if (!found) throw new Error('no answer');
  for (let i = 0; i < n; i++) {
    expect(found.speed[i]).toBeGreaterThan(low[i] - 1e-7);
    expect(found.force[i]).toBeGreaterThan(-1e-7);
    expect(Math.abs(found.force[i] * (found.speed[i] - low[i]))).toBeLessThan(1e-6);
  }
  expect(found.atBound.some((b) => b === 1)).toBe(true);
  expect(found.atBound.some((b) => b === 0)).toBe(true);
});

test('a compliance that is not positive definite has no answer', () => {
  const p = {
    compliance: Float64Array.of(1, 2, 2, 1),
    alone: Float64Array.of(-1, -1),
    low: new Float64Array(2),
  };
  expect(
    leastPressed({ ...p, spring: new Float64Array(2), atBound: new Uint8Array(2).fill(1) }),
  ).toBeUndefined();
});
