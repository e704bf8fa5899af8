import { expect, test } from 'vitest';
import { tippingShare } from './tipping.ts';

/** A tube's nodes, 40 mm wide and 150 mm tall, and the speeds a rule gives them. */
const nodes = (speed: (x: number, y: number, z: number) => readonly [number, number, number]) => {
  const positions: number[] = [];
  const rates: number[] = [];
  for (let i = 0; i < 12; i++)
    for (let j = 0; j < 10; j++) {
      const [x, y, z] = [0.04 * Math.cos(i / 2), 0.04 * Math.sin(i / 2), 0.015 * j];
      positions.push(x, y, z);
      rates.push(...speed(x, y, z), 0, 0, 0);
    }
  return tippingShare(Float64Array.from(positions), Float64Array.from(rates));
};

test('a rigid body turning about its edge is all tipping: v = w x (r - pivot), exactly', () => {
  expect(nodes((x, _, z) => [z, 0, -(x - 0.04)])).toBeCloseTo(1, 10);
  expect(nodes((_, y, z) => [0, -2 * z, 2 * (y + 0.04)])).toBeCloseTo(1, 10);
});

test('settling, spreading and spinning on the spot are none', () => {
  expect(nodes((_x, _y, z) => [0, 0, -z])).toBeCloseTo(0, 2);
  expect(nodes((x, y, z) => [0.3 * x, 0.3 * y, -0.6 * z])).toBeCloseTo(0, 2);
  expect(nodes((x, y) => [-y, x, 0])).toBeCloseTo(0, 10);
  expect(nodes(() => [0, 0, -1])).toBeCloseTo(0, 10);
});
