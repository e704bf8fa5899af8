import { expect, test } from 'vitest';
import { brief, LENGTH, numberTyped, plain, read, temperatureText, timeText } from './words.ts';

test('numbers as typed by hand', () => {
  expect(['12', ' 12,5 mm', '.5', '-3', '−3', '1285 °C', '7.'].map(numberTyped)).toEqual([
    12, 12.5, 0.5, -3, -3, 1285, 7,
  ]);
  expect(['', 'twelve', '1e9', 'NaN', '1.2.3', '12 13', 'Infinity'].map(numberTyped)).toEqual(
    Array(7).fill(undefined),
  );
});

test('numbers as read out', () => {
  expect([plain(-0.04, 1), plain(-1.25, 1), brief(12), brief(12.5), brief(100), brief(0.04)]).toEqual([
    '0.0',
    '−1.3',
    '12',
    '12.5',
    '100',
    '0',
  ]);
  expect(read(0.1825, LENGTH)).toBe('182.5');
  expect(timeText(41_999)).toBe('11 h 40');
});

test('cone 10 is about 2350 °F (common practice, no source); 1285 °C is 2345 °F by definition of the scales', () => {
  expect(temperatureText(1285 + 273.15, 'C')).toBe('1285 °C');
  expect(temperatureText(1285 + 273.15, 'F')).toBe('2345 °F');
});
