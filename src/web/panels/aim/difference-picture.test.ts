import { expect, test } from 'vitest';
import { differenceColour, rolledOut, roundAbove } from './difference-picture.ts';

test('the scale ends at the next round number', () => {
  expect([0.013, 0.2, 0.21, 1, 7].map(roundAbove)).toEqual([0.02, 0.2, 0.5, 1, 10]);
  expect(roundAbove(0)).toBe(1);
});

test('a wall rolled out: no hole in it, the seam closed, each node in its own colour', () => {
  // A tube of one band: four nodes round below, four above; outside by the most at one angle, inside opposite it.
  const angles = [0, 1, 2, 3].map((k) => (k * Math.PI) / 2);
  const triangles = Uint32Array.from(
    [0, 1, 2, 3].flatMap((k) => [k, (k + 1) % 4, 4 + k, (k + 1) % 4, 4 + ((k + 1) % 4), 4 + k]),
  );
  const mesh = {
    triangles,
    along: Float64Array.from([0, 0, 0, 0, 1, 1, 1, 1]),
    angle_rad: Float64Array.from([...angles, ...angles]),
    open: true,
  };
  const values = [0, 1, 0, -1, 0, 1, 0, -1];
  const [wide, high] = [40, 20];
  const picture = rolledOut(mesh, values, new Uint8Array(8), { wide, high, most: 1 });
  const at = (x: number, y: number): number[] => [
    ...picture.subarray(4 * (y * wide + x), 4 * (y * wide + x) + 3),
  ];
  for (let i = 3; i < picture.length; i += 4) expect(picture[i]).toBe(255);
  const near = (a: readonly number[], b: readonly number[]): number =>
    Math.max(...a.map((v, k) => Math.abs(v - b[k]!)));
  expect(near(at(10, 10), differenceColour(1))).toBeLessThan(12);
  expect(near(at(30, 10), differenceColour(-1))).toBeLessThan(12);
  expect(near(at(0, 10), differenceColour(0))).toBeLessThan(12);
});
