import { expect, test } from 'vitest';
import { ticksOf } from './axis.ts';

test('ticks are round and lie within the axis', () => {
  expect(ticksOf(0, 10, 5)).toEqual([0, 2, 4, 6, 8, 10]);
  expect(ticksOf(-1.3, 1.3, 5)).toEqual([-1, -0.5, 0, 0.5, 1]);
  expect(ticksOf(0, 0.07, 4)).toEqual([0, 0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.07]);
});
