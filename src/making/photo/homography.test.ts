import { expect, test } from 'vitest';
import { eyeAt, seenAt } from '../../../test/photo-scenes.ts';
import { homographyOf, inverse, type Point, scaleAt, squashAt, through } from './homography.ts';

const SQUARE: Point[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
];

/** Unit square to a quadrilateral in closed form (P. Heckbert, Fundamentals of Texture Mapping, 1989, p. 20; from memory). */
const closedForm = ([[x0, y0], [x1, y1], [x2, y2], [x3, y3]]: readonly Point[]): number[] => {
  const [dx1, dx2, sx] = [x1 - x2, x3 - x2, x0 - x1 + x2 - x3];
  const [dy1, dy2, sy] = [y1 - y2, y3 - y2, y0 - y1 + y2 - y3];
  const det = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / det;
  const h = (dx1 * sy - sx * dy1) / det;
  return [x1 - x0 + g * x1, x3 - x0 + h * x3, x0, y1 - y0 + g * y1, y3 - y0 + h * y3, y0, g, h, 1];
};

test('four points: the same nine numbers as the closed form of a square seen in perspective', () => {
  const quads: Point[][] = [
    [
      [100, 2000],
      [1500, 2100],
      [1450, 900],
      [140, 1000],
    ],
    [
      [0, 0],
      [3, 0.2],
      [2.5, 2],
      [-0.3, 1.4],
    ],
  ];
  for (const quad of quads) {
    const found = homographyOf(SQUARE, quad);
    closedForm(quad).forEach((x, i) => {
      expect(Math.abs(found[i] - x)).toBeLessThan(1e-8 * Math.max(1, Math.abs(x)));
    });
  }
});

test('there and back again is where one was; more points than four change nothing if they agree', () => {
  const h = [1200, 30, 50, -20, -1100, 900, 0.4, -0.2, 1];
  const from: Point[] = [...SQUARE, [0.3, 0.7], [2, -1]];
  const found = homographyOf(
    from,
    from.map(([x, y]) => through(h, x, y)),
  );
  h.forEach((x, i) => {
    expect(found[i]).toBeCloseTo(x, 6);
  });
  const [x, y] = through(inverse(found), ...through(found, 0.123, 0.456));
  expect(x).toBeCloseTo(0.123, 12);
  expect(y).toBeCloseTo(0.456, 12);
});

test('the scale at a place is the root of how much a small square grows', () => {
  const h = [1200, 30, 50, -20, -1100, 900, 0.4, -0.2, 1];
  const e = 1e-5;
  const [a, b, c] = [through(h, 0.3, 0.2), through(h, 0.3 + e, 0.2), through(h, 0.3, 0.2 + e)];
  const area = Math.abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
  expect(scaleAt(h, 0.3, 0.2)).toBeCloseTo(Math.sqrt(area) / e, 1);
});

test('a circle looked at from 40° to the side is squashed by cos 40°', () => {
  const a = (40 * Math.PI) / 180;
  const far = 400;
  const size = { f_px: 4e6, width: 2000, height: 1000 };
  const eye = eyeAt([far * Math.sin(a), 0, far * Math.cos(a)], [0, 0], 0.2, size);
  const h = homographyOf(
    SQUARE.map(([x, y]) => [x / 10, y / 10]),
    SQUARE.map(([x, y]) => seenAt(eye, [x / 10, y / 10, 0])),
  );
  expect(squashAt(h, 0, 0)).toBeCloseTo(Math.cos(a), 6);
});
