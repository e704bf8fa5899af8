import { expect, test } from 'vitest';
import { bandWalls, type Cut, wallsOf } from './section-shape.ts';

/** An upright wall 4 mm thick and 100 mm high at x. */
const upright = (x: number): Cut => ({
  points: Float64Array.of(x, 0, 0, x, 0, 0.1),
  half: Float64Array.of(0.002, 0, 0, 0.002, 0, 0),
  closed: false,
});

test('a wall is its outer face there and its inner face back', () => {
  const [corners] = wallsOf([upright(0.05)]);
  expect(corners!.map(([x, z]) => [x.toFixed(3), z.toFixed(3)].join(' '))).toEqual([
    '0.052 0.000',
    '0.052 0.100',
    '0.048 0.100',
    '0.048 0.000',
  ]);
});

test('a band from 50 to 60 mm is covered without a gap, whichever way the second cut runs', () => {
  const back: Cut = { ...upright(0.06), points: Float64Array.of(0.06, 0, 0.1, 0.06, 0, 0) };
  const walls = bandWalls([upright(0.05)], [back]);
  const spans = walls.map((w) => [Math.min(...w.map(([x]) => x)), Math.max(...w.map(([x]) => x))] as const);
  expect(spans[0]![0]).toBeCloseTo(0.048, 9);
  expect(spans.at(-1)![1]).toBeCloseTo(0.062, 9);
  for (let i = 1; i < spans.length; i++) expect(spans[i]![0]).toBeLessThan(spans[i - 1]![1]);
});

test('ends that are cut into different runs are drawn as they are', () => {
  expect(bandWalls([upright(0.05)], [upright(0.06), upright(-0.06)])).toHaveLength(3);
});
