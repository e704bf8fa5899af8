import { expect, test } from 'vitest';
import { onNearest } from './on-nearest.ts';

test('linear fields are carried exactly to points on the mesh (linear interpolation reproduces them)', () => {
  const n = 6;
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let j = 0; j <= n; j++) for (let i = 0; i <= n; i++) positions.push(i / n, j / n, 0.5);
  const at = (i: number, j: number): number => j * (n + 1) + i;
  for (let j = 0; j < n; j++)
    for (let i = 0; i < n; i++)
      triangles.push(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i, j + 1));
  const mesh = { positions: Float64Array.from(positions), triangles: Uint32Array.from(triangles) };
  const field = (x: number, y: number): number[] => [1 + 2 * x - y, 3 * y, x - 4];
  const values = new Float64Array(positions.length);
  for (let i = 0; i < positions.length; i += 3) values.set(field(positions[i], positions[i + 1]), i);
  // Nearer to a corner of their own triangle than a third of an edge, so that its triangles are those asked.
  const points = [0.17, 0.16, 0.5, 0.51, 0.66, 0.5, 0.99, 0.02, 0.5];
  const got = onNearest(mesh, values, Float64Array.from(points));
  for (let i = 0; i < points.length; i += 3)
    field(points[i], points[i + 1]).forEach((want, k) => {
      expect(got[i + k]).toBeCloseTo(want, 12);
    });
});

test('a point beside the mesh takes the value of the nearest of it', () => {
  const mesh = { positions: Float64Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0), triangles: Uint32Array.of(0, 1, 2) };
  const values = Float64Array.of(1, 1, 1, 2, 2, 2, 3, 3, 3);
  expect([...onNearest(mesh, values, Float64Array.of(-1, -1, 0.2, 0.5, 0, 1))]).toEqual([
    1, 1, 1, 1.5, 1.5, 1.5,
  ]);
});
