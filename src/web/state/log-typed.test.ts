import { expect, test } from 'vitest';
import { logTyped } from './log-typed.ts';

test('hours or clock times, points or commas, a heading passed over', () => {
  const want = [
    { time_h: 0, temperature_C: 20 },
    { time_h: 1.5, temperature_C: 120.5 },
  ];
  expect(logTyped('time temp\n0 20\n1.5 120.5\n', 'hours', 'C')).toEqual(want);
  expect(logTyped('0:00;20\r\n1:30;120,5', 'minutes', 'C')).toEqual(want);
  expect(logTyped('0,20\n90,120.5', 'minutes', 'C')).toEqual(want);
});

test('degrees Fahrenheit: 212 is 100', () => {
  expect(logTyped('0 32\n1 212', 'hours', 'F')).toEqual([
    { time_h: 0, temperature_C: 0 },
    { time_h: 1, temperature_C: 100 },
  ]);
});

test('what will not do is named by its line', () => {
  expect(logTyped('0 20\n1 100\n1 200', 'hours', 'C')).toMatch(/^Line 3, “1 200”, .*not later/);
  expect(logTyped('0 20\nhot', 'hours', 'C')).toMatch(/^Line 2, “hot”/);
  expect(logTyped('nothing', 'hours', 'C')).toMatch(/at least two lines/);
});
