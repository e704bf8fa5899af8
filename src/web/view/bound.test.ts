import { expect, test } from 'vitest';
import { bind, follow, setAs } from './bound.ts';

const triangles = Uint32Array.of(0, 1, 2);
const flat = Float32Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0);

test('a point goes along with its triangle: stretched, turned up, and as far off as it was', () => {
  const bound = bind(Float32Array.of(0.25, 0.25, 0.1), flat, triangles);
  expect([...follow(bound, { positions: flat, linearScale: 1 })].map((x) => Number(x.toFixed(6)))).toEqual([
    0.25, 0.25, 0.1,
  ]);
  // Twice as large and turned up so that y becomes z: the normal z becomes -y.
  const upright = Float32Array.of(0, 0, 0, 2, 0, 0, 0, 0, 2);
  const after = follow(bound, { positions: upright, linearScale: 0.5 });
  expect([...after].map((x) => Number(x.toFixed(6)))).toEqual([0.5, -0.05, 0.5]);
});

test('points as drawn are scaled, turned by the rows of the pose and shifted', () => {
  const pose = { turn: [0, 0, -1, 0, 1, 0, 1, 0, 0], shift_m: [1, 2, 3] as const };
  expect([...setAs(Float64Array.of(0.5, 0.25, 1), pose, 0.5)]).toEqual([1.5, 2.125, 2.75]);
});
