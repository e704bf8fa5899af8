import { expect, test } from 'vitest';
import { historyUpTo, placeAt, temperatureAt_K } from './heat.ts';

const up = { time_s: Float64Array.of(0, 100, 200), temperature_K: Float64Array.of(300, 1300, 1300) };

test('temperature between the points, and outside them', () => {
  expect([-1, 0, 25, 100, 150, 999].map((t) => temperatureAt_K(up, t))).toEqual([
    300, 300, 550, 1300, 1300, 1300,
  ]);
});

test('a history cut in the middle ends there', () => {
  expect(historyUpTo(up, 50)).toEqual({
    time_s: Float64Array.of(0, 50),
    temperature_K: Float64Array.of(300, 800),
  });
  expect(historyUpTo(up, 0).time_s).toHaveLength(1);
});

test('place in the film', () => {
  const film = [0, 10, 30].map((time_s) => ({ time_s }));
  expect([-5, 0, 5, 20, 30, 99].map((t) => placeAt(film, t))).toEqual([0, 0, 0.5, 1.5, 2, 2]);
});
