import { expect, test } from 'vitest';
import {
  brief,
  inDegrees,
  inDegreesApart,
  inLengths,
  lengthReading,
  lengthText,
  numberTyped,
  plain,
  read,
  temperatureText,
  timeText,
} from './words.ts';

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
  expect(read(0.1825, lengthReading('mm'))).toBe('182.5');
  expect(read(0.0635, lengthReading('in'))).toBe('2.50');
  expect([lengthText(63.5, 'mm'), lengthText(63.5, 'in'), lengthText(2.5, 'in', 2)]).toEqual([
    '63.5',
    '2.5',
    '0.098',
  ]);
  expect(timeText(41_999)).toBe('11 h 40 min');
});

test('sentences in mm and °C are read out in inches and °F', () => {
  expect(inLengths('Sags; the lip drops 25.4 (12.7 to 51) mm beyond shrinkage.', 'in')).toBe(
    'Sags; the lip drops 1.00 (0.50 to 2.01) in beyond shrinkage.',
  );
  expect(inLengths('Stands; the lip drops 4 ± 1.5 mm, the top 4 (up to 7) mm.', 'in')).toBe(
    'Stands; the lip drops 0.16 ± 0.06 in, the top 0.16 (up to 0.28) in.',
  );
  expect(inLengths('It drops less than 0.1 mm.', 'in')).toBe('It drops less than 0.004 in.');
  expect(inLengths('about 15 minutes (8 to 40) before the lip moves 2 mm more', 'in')).toBe(
    'about 15 minutes (8 to 40) before the lip moves 0.08 in more',
  );
  expect(inLengths('a flat bar 5 mm thick on supports 100 mm apart, 20 mmol', 'in')).toBe(
    'a flat bar 0.20 in thick on supports 3.94 in apart, 20 mmol',
  );
  expect(inDegrees('It ends at 300 °C; 50 °C/h is advised.', 'F')).toBe(
    'It ends at 572 °F; 90 °F/h is advised.',
  );
  expect(inDegrees('about 10 °C lower at the top than 300 °C', 'F')).toBe(
    'about 18 °F lower at the top than 572 °F',
  );
  expect(inLengths('5 mm', 'mm')).toBe('5 mm');
});

test('cone 10 is about 2350 °F (common practice, no source); 1285 °C is 2345 °F by definition of the scales', () => {
  expect(temperatureText(1285 + 273.15, 'C')).toBe('1285 °C');
  expect(temperatureText(1285 + 273.15, 'F')).toBe('2345 °F');
});

test('a difference of 5 °C is one of 9 °F', () => {
  expect(inDegreesApart('it was 5 °C off', 'F')).toBe('it was 9 °F off');
  expect(inDegreesApart('it was 5 °C off', 'C')).toBe('it was 5 °C off');
});
