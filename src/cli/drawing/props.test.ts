import { expect, test } from 'vitest';
import { Setting } from '../../making/firing/setting.ts';
import { propBodies, propLines } from './props.ts';

const MIDDLE = { x0_m: 0, y0_m: 0, along_rad: 0 };
const bodies = (...props: object[]) =>
  propBodies(Setting.parse({ attitude: 'upright', props }), [0, 0], 0.9, 0.2);
const post = { kind: 'post', x_mm: 35, width_mm: 20, height_mm: 90 };

test('a post cut through its axis is one outline, as wide and as high as it was said to be', () => {
  const [{ lines, beyond }] = propLines(bodies(post), MIDDLE);
  expect(beyond).toBe(false);
  expect(lines).toHaveLength(1);
  const [us, zs] = [0, 1].map((k) => lines[0].map((point) => 1000 * point[k]));
  expect([Math.min(...us), Math.max(...us)]).toEqual([expect.closeTo(25, 6), expect.closeTo(45, 6)]);
  expect([Math.min(...zs), Math.max(...zs)]).toEqual([expect.closeTo(0, 6), expect.closeTo(90, 6)]);
});

test('a ring cut through its axis is two', () => {
  const ring = { kind: 'ring', insideRadius_mm: 30, width_mm: 14, height_mm: 12 };
  expect(propLines(bodies(ring), MIDDLE)[0].lines).toHaveLength(2);
});

test('a prop the plane misses is seen beyond it; one of the same clay shrinks with the piece', () => {
  const [{ lines, beyond }] = propLines(bodies({ ...post, y_mm: 40, shrinks: true }), MIDDLE);
  expect(beyond).toBe(true);
  expect(1000 * Math.max(...lines.flat().map(([, z]) => z))).toBeCloseTo(81, 6);
});
