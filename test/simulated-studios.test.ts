import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { type Claim, kitchenOf, taleOf } from './simulated-studios.ts';

/**
 * Forty studios that never were, the truth of each known. Two hundred, by hand, stand in docs/simulated-studios.md.
 *
 * Bounds: what an interval of four in five holds is Binomial(n, 0.8). A count is let pass between the one in two hundred
 * that is too few and the one in two hundred that is too many. The seeds are fixed, so it passes or fails for good.
 */
const read = (name: string): unknown => JSON.parse(readFileSync(new URL(name, import.meta.url), 'utf8'));
const kitchen = kitchenOf({
  clay: read('../examples/studio-porcelain.clay.json'),
  schedule: read('../examples/cone-10-slow.schedule.json'),
  pieces: read('./simulated-films.json') as never,
});
const STUDIOS = 40;
const tales = Array.from({ length: STUDIOS }, (_, i) =>
  taleOf(kitchen, i + 1001, ['three bars with cones', 'ten pieces']),
);
const claims = (what: string): Claim[] => tales.flatMap((t) => t.claims.filter((c) => c.what === what));
const inside = (list: readonly Claim[]): number =>
  list.filter((c) => c.truth >= c.low && c.truth <= c.high).length;

/** Fewest and most of n that are not rarer than one in two hundred on their side. */
const bounds = (n: number, p: number): readonly [number, number] => {
  const chances: number[] = [(1 - p) ** n];
  for (let k = 1; k <= n; k++) chances.push((chances[k - 1] * (n - k + 1) * p) / (k * (1 - p)));
  const upTo = (k: number): number => chances.slice(0, k + 1).reduce((a, b) => a + b, 0);
  const low = chances.findIndex((_, k) => upTo(k) > 0.005);
  const high = chances.findLastIndex((_, k) => 1 - upTo(k - 1) > 0.005);
  return [low, high];
};

test('the binomial bounds themselves: 25 to 38 of 40', () => {
  // Binomial(40, 0.8): P(≤ 24) = 0.35 %, P(≤ 25) = 0.79 %, P(≥ 39) = 0.15 %, P(≥ 38) = 0.79 %
  expect(bounds(40, 0.8)).toEqual([25, 38]);
});

test.each([
  'three bars with cones: softness',
  'three bars with cones: softness in the big kiln',
  'three bars with cones: the big kiln',
  'ten pieces: softness',
  'ten pieces: softness in the big kiln',
  'ten pieces: size',
  'ten pieces: the big kiln',
  'ten pieces: the small kiln',
])('%s: intervals of four in five hold the truth that often', (what) => {
  const list = claims(what);
  expect(list).toHaveLength(STUDIOS);
  const [low, high] = bounds(STUDIOS, 0.8);
  expect(inside(list)).toBeGreaterThanOrEqual(low);
  expect(inside(list)).toBeLessThanOrEqual(high);
});

test('after three bars beside witness cones the viscosity is known within ±10 % in nine studios of ten', () => {
  const near = claims('three bars with cones: softness').filter((c) => Math.abs(c.middle - c.truth) < 0.1);
  // one in two hundred below nine of ten
  expect(near.length).toBeGreaterThanOrEqual(bounds(STUDIOS, 0.9)[0]);
});

test('what ten pieces taught tightens the next to half its width and less, and stays honest', () => {
  const of = (what: string) => tales.flatMap((t) => t.predictions.filter((p) => p.what === what));
  const [before, after] = [of('lip drop after nothing'), of('lip drop after ten pieces')];
  const width = (list: readonly Claim[]): number => list.reduce((sum, c) => sum + c.high - c.low, 0);
  expect(width(after)).toBeLessThan(0.5 * width(before));
  // The ten pieces of a studio share its belief: taken as two independent ones each.
  const [low, high] = bounds(2 * STUDIOS, 0.8);
  const share = inside(after) / after.length;
  expect(share).toBeGreaterThan(low / (2 * STUDIOS));
  expect(share).toBeLessThan(high / (2 * STUDIOS));
});

test('the check can fail: intervals half as wide hold too little', () => {
  const narrow = tales.flatMap((t) =>
    t.claims.map((c) => ({
      ...c,
      low: c.middle - (c.middle - c.low) / 2,
      high: c.middle + (c.high - c.middle) / 2,
    })),
  );
  const [low] = bounds(narrow.length, 0.8);
  expect(inside(narrow)).toBeLessThan(low);
});
