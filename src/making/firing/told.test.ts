import { expect, test } from 'vitest';
import { lengthTold } from './told.ts';

const told = (value: number, low: number, high: number): string =>
  lengthTold({ value: value / 1000, low: low / 1000, high: high / 1000 });

test('lengths are told no finer than they are known (first figure of the uncertainty: JCGM 100:2008, 7.2.6)', () => {
  expect(told(4.2, 2.8, 5.7)).toBe('4 ± 1.5 mm');
  expect(told(4.23, 4.1, 4.36)).toBe('4.2 ± 0.1 mm');
  expect(told(106, 67, 127)).toBe('110 (70 to 130) mm');
  expect(told(0.58, 0.47, 0.69)).toBe('0.6 ± 0.1 mm');
});

test('a lopsided interval is told by its ends', () => {
  expect(told(4.1, 3.2, 7.1)).toBe('4 (3 to 7) mm');
  expect(told(1.9, 0.1, 6.2)).toBe('2 (up to 6) mm');
});

test('little is told as little, never as nought', () => {
  expect(told(0.03, 0.01, 0.06)).toBe('less than 0.1 mm');
  expect(told(0.02, 0, 0.4)).toBe('less than 0.4 mm');
  expect(told(0, 0, 0)).toBe('less than 0.1 mm');
  for (let v = 0; v < 30; v += 0.037)
    for (const w of [0.01, 0.3, 0.9, 2, 11])
      expect(told(v, v - w, v + 1.1 * w)).not.toMatch(/(^|[^\d.])0(\.0)? /);
});

test('a quick look has fewer figures', () => {
  expect(told(4.26, Number.NaN, Number.NaN)).toBe('about 4 mm');
  expect(told(12.7, Number.NaN, Number.NaN)).toBe('about 13 mm');
  expect(told(0.03, Number.NaN, Number.NaN)).toBe('less than 0.1 mm');
});
