import { expect, test } from 'vitest';
import { leastSquares } from './least-squares.ts';

/**
 * NIST Statistical Reference Datasets, nonlinear regression (https://www.itl.nist.gov/div898/strd/nls/nls_main.shtml; data from
 * the sets' own sources, public domain). Data and certified values from memory; that they are right shows in the certified
 * sum of squares, which nine digits and more of a wrong table would not give.
 */
interface Set {
  readonly name: string;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly model: (b: ArrayLike<number>, x: number) => number;
  readonly starts: readonly (readonly number[])[];
  readonly certified: readonly number[];
  readonly sum: number;
}

const SETS: readonly Set[] = [
  {
    name: 'Misra1a (lower)',
    x: [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760],
    y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
    model: (b, x) => b[0] * (1 - Math.exp(-b[1] * x)),
    starts: [
      [500, 1e-4],
      [250, 5e-4],
    ],
    certified: [238.94212918, 5.5015643181e-4],
    sum: 1.2455138894e-1,
  },
  {
    name: 'Rat42 (higher)',
    x: [9, 14, 21, 28, 42, 57, 63, 70, 79],
    y: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
    model: (b, x) => b[0] / (1 + Math.exp(b[1] - b[2] * x)),
    starts: [
      [100, 1, 0.1],
      [75, 2.5, 0.07],
    ],
    certified: [72.462237576, 2.6180768402, 0.067359200066],
    sum: 8.0565229338,
  },
  {
    name: 'BoxBOD (higher)',
    x: [1, 2, 3, 5, 7, 10],
    y: [109, 149, 149, 191, 213, 224],
    model: (b, x) => b[0] * (1 - Math.exp(-b[1] * x)),
    // From [1, 1] it runs off to b2 without end unless told a bound: below.
    starts: [[100, 0.75]],
    certified: [213.80940889, 0.54723748542],
    sum: 1168.0088766,
  },
  {
    name: 'MGH10 (higher)',
    x: Array.from({ length: 16 }, (_, i) => 50 + 5 * i),
    y: [
      34780, 28610, 23650, 19630, 16370, 13720, 11540, 9744, 8261, 7030, 6005, 5147, 4427, 3820, 3307, 2872,
    ],
    model: (b, x) => b[0] * Math.exp(b[1] / (x + b[2])),
    // From [2, 400000, 25000] it is not found: nothing here asks for a start so far off.
    starts: [[0.02, 4000, 250]],
    certified: [5.609636471e-3, 6181.3463463, 345.22363462],
    sum: 87.945855171,
  },
];

const problemOf = ({ x, y, model }: Set) => ({
  count: x.length,
  residuals: (b: Float64Array, out: Float64Array) => {
    for (let i = 0; i < x.length; i++) out[i] = model(b, x[i]) - y[i];
  },
});

for (const set of SETS)
  test.each(set.starts.map((start, i) => [i + 1, start] as const))(
    `${set.name} from start %i: certified parameters to six digits, sum of squares to eight`,
    (_, start) => {
      const { x, sum } = leastSquares({ ...problemOf(set), start, mostSteps: 2000 });
      set.certified.forEach((c, j) => {
        expect(Math.abs(x[j] / c - 1)).toBeLessThan(1e-6);
      });
      expect(Math.abs(sum / set.sum - 1)).toBeLessThan(1e-8);
    },
  );

test('BoxBOD from its far start, b2 kept below 2: the certified answer', () => {
  const set = SETS[2];
  const { x, sum } = leastSquares({ ...problemOf(set), start: [1, 1], low: [0, 0], high: [1000, 2] });
  expect(Math.abs(x[1] / set.certified[1] - 1)).toBeLessThan(1e-6);
  expect(Math.abs(sum / set.sum - 1)).toBeLessThan(1e-8);
});

test('a bound holds, and the rest is the best with it: Misra1a with b1 at most 230', () => {
  const set = SETS[0];
  const at = leastSquares({ ...problemOf(set), start: [200, 5e-4], high: [230, 1] });
  expect(at.x[0]).toBe(230);
  const alone = leastSquares({
    count: set.x.length,
    residuals: (b, out) => {
      for (let i = 0; i < set.x.length; i++) out[i] = set.model([230, b[0]], set.x[i]) - set.y[i];
    },
    start: [5e-4],
  });
  expect(at.x[1]).toBeCloseTo(alone.x[0], 9);
});
