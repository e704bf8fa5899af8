import { expect, test } from 'vitest';
import { curveThrough, slopes } from './curve.ts';

test('goes through its points and never leaves the band between neighbours', () => {
  // Data with steps and flats on which a plain cubic spline overshoots: F. N. Fritsch and R. E. Carlson,
  // SIAM J. Numer. Anal. 17 (1980) 238-246, the RPN 14 data (figures from memory).
  const points = [
    [7.99, 0],
    [8.09, 2.76429e-5],
    [8.19, 4.37498e-2],
    [8.7, 0.169183],
    [9.2, 0.469428],
    [10, 0.94374],
    [12, 0.998636],
    [15, 0.999919],
    [20, 0.999994],
  ] as const;
  const curve = curveThrough(points);
  for (const [t, x] of points) expect(curve(t)).toBeCloseTo(x, 12);
  for (let i = 0; i + 1 < points.length; i++) {
    let before: number = points[i][1];
    for (let k = 1; k <= 50; k++) {
      const x = curve(points[i][0] + ((points[i + 1][0] - points[i][0]) * k) / 50);
      expect(x).toBeGreaterThanOrEqual(before - 1e-12);
      before = x;
    }
    expect(before).toBeLessThanOrEqual(points[i + 1][1] + 1e-12);
  }
});

test('a rising parabola comes out exactly where its slopes need no holding back', () => {
  const t = [1, 1.5, 2.2, 3, 3.5];
  const x = t.map((v) => v * v);
  const m = slopes(t, x);
  for (let i = 0; i < t.length; i++) expect(m[i]).toBeCloseTo(2 * t[i], 12);
  const curve = curveThrough(t.map((v, i) => [v, x[i]] as const));
  expect(curve(2.7)).toBeCloseTo(2.7 ** 2, 12);
});

test('one point is level, and so is everything beyond the ends', () => {
  expect(curveThrough([[0.5, 3]])(0.1)).toBe(3);
  const two = curveThrough([
    [0.2, 1],
    [0.8, 2],
  ]);
  expect([two(0), two(0.5), two(1)]).toEqual([1, expect.closeTo(1.5, 12), 2]);
});
