import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseClay } from './clay.ts';
import {
  combinedShrinkage,
  linearFromVolumeShrinkage,
  massBetween,
  scaleBetween,
  secondShrinkage,
  volumeShrinkage,
} from './shrinkage.ts';

// ASTM C326 (linear drying and firing shrinkage): firing shrinkage on the dry length; plain arithmetic from there.
test('6 % drying then 8 % firing is 13.52 %, not 14', () => {
  expect(combinedShrinkage(0.06, 0.08)).toBeCloseTo(0.1352, 12);
  expect(100 / (1 - combinedShrinkage(0.06, 0.08))).toBeCloseTo(115.63, 2); // throw this for 100 mm fired
  expect(secondShrinkage(0.1352, 0.06)).toBeCloseTo(0.08, 12);
});

test('5.5 % drying with 12.8 % firing is 17.6 %', () => {
  expect(combinedShrinkage(0.055, 0.128)).toBeCloseTo(0.176, 3);
});

test('13.52 % in length is 35.32 % in volume, and back', () => {
  expect(volumeShrinkage(0.1352)).toBeCloseTo(0.3532, 4);
  expect(linearFromVolumeShrinkage(volumeShrinkage(0.1352))).toBeCloseTo(0.1352, 12);
});

test('a clay: lengths and weights there and back', () => {
  const clay = parseClay(JSON.parse(readFileSync('examples/studio-porcelain.clay.json', 'utf8')));
  expect(scaleBetween(clay, 'wet', 'fired')).toBeCloseTo(0.94 * 0.909, 12);
  expect(scaleBetween(clay, 'fired', 'wet') * scaleBetween(clay, 'wet', 'fired')).toBeCloseTo(1, 12);
  expect(scaleBetween(clay, 'dry', 'fired')).toBeCloseTo(0.909, 12);
  expect(massBetween(clay, 'wet', 'dry')).toBeCloseTo(1 / 1.24, 12);
  expect(massBetween(clay, 'dry', 'fired')).toBeCloseTo(0.935, 12);
});
