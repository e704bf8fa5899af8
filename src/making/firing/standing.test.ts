import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseClay } from '../clay/clay.ts';
import { clayHistory } from '../clay/clay-history.ts';
import { parseSchedule, temperatureHistory } from '../kiln/schedule.ts';
import { scaleAtClock, shrinkRateAt } from './standing.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8'));
const history = clayHistory(
  parseClay(example('studio-porcelain.clay.json')),
  temperatureHistory(parseSchedule(example('cone-10-slow.schedule.json'))),
);
const end = history.creepClockUnshrunk[history.creepClockUnshrunk.length - 1];

test('the rate of shrinking by the clock adds up to the shrinkage (fundamental theorem)', () => {
  let sum = 0;
  const n = 200_000;
  // Even in the logarithm of the clock, where most of the shrinking is early.
  const [from, to] = [Math.log(1e-9 * end), Math.log(end)];
  for (let i = 0; i < n; i++) {
    const clock = Math.exp(from + ((i + 0.5) * (to - from)) / n);
    sum += (shrinkRateAt(history, clock) * clock * (to - from)) / n;
  }
  expect(sum).toBeCloseTo(Math.log(scaleAtClock(history, end) / scaleAtClock(history, 1e-9 * end)), 4);
});

test('after the fire nothing shrinks any more, before it nothing has', () => {
  expect(shrinkRateAt(history, 2 * end)).toBe(0);
  expect(scaleAtClock(history, 2 * end)).toBe(history.linearScale[history.linearScale.length - 1]);
  expect(scaleAtClock(history, 0)).toBeCloseTo(1, 9);
});
