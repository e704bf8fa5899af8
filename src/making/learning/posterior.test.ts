import { expect, test } from 'vitest';
import type { Belief } from './belief.ts';
import type { Evidence, FilmTable, PieceEvidence } from './learning-log.ts';
import { FIRING_SCATTER_K, posterior } from './posterior.ts';

/**
 * Against what has an exact answer: with normal errors and all tables straight, belief is the normal law of linear
 * regression, precision = prior precision + XᵀX/sd² (A. Gelman and others, Bayesian Data Analysis, 3rd ed., 2.5 and 14.8).
 */
const NORMAL = Number.POSITIVE_INFINITY;
const PER_K = 0.024;
const pace = { offset_K: [-42, 42], lnClock: [-42 * PER_K, 42 * PER_K] };
const start: Belief = {
  softness: { mean: 0, sd: 0.54 },
  size: { mean: 0, sd: 0.011 },
  wall: { mean: Math.log(0.12), sd: 1e-4 },
  kilns: [{ name: 'big', mean_K: 0, sd_K: 6, withSoftness: 0 }],
};
const bar = (kiln: string, mean: number, sd: number): Evidence => ({
  kiln,
  pace,
  pieces: [],
  softness: { mean, sd },
});

/** Mean and covariance after observations y of x·weights, each with its variance; plain Gauss elimination on the normal equations. */
const regression = (
  prior: readonly { mean: number; sd: number }[],
  seen: readonly { x: readonly number[]; y: number; sd: number }[],
) => {
  const n = prior.length;
  const a = prior.map((p, i) => prior.map((_, j) => (i === j ? 1 / p.sd ** 2 : 0)));
  const b = prior.map((p) => p.mean / p.sd ** 2);
  for (const { x, y, sd } of seen)
    for (let i = 0; i < n; i++) {
      b[i] += (x[i] * y) / sd ** 2;
      for (let j = 0; j < n; j++) a[i][j] += (x[i] * x[j]) / sd ** 2;
    }
  const rows = a.map((row, i) => [...row, ...prior.map((_, j) => (i === j ? 1 : 0)), b[i]]);
  for (let k = 0; k < n; k++) {
    const p = rows[k][k];
    rows[k] = rows[k].map((v) => v / p);
    for (let i = 0; i < n; i++) if (i !== k) rows[i] = rows[i].map((v, j) => v - rows[i][k] * rows[k][j]);
  }
  return {
    mean: rows.map((r) => r[2 * n]),
    covariance: rows.map((r) => r.slice(n, 2 * n)),
  };
};

test('one bar in one kiln: softness, offset and how they hang together are those of linear regression', () => {
  const now = posterior(start, [bar('big', 0.4, 0.1)], NORMAL);
  // unknowns: softness, the kiln's offset, this firing's own
  const exact = regression(
    [start.softness, { mean: 0, sd: 6 }, { mean: 0, sd: FIRING_SCATTER_K }],
    [{ x: [1, PER_K, PER_K], y: 0.4, sd: 0.1 }],
  );
  const sd = exact.covariance.map((row, i) => Math.sqrt(row[i]));
  // quadrature on a grid of 0.6 sd: a thousandth
  expect(now.softness.mean).toBeCloseTo(exact.mean[0], 3);
  expect(now.softness.sd / sd[0]).toBeCloseTo(1, 2);
  expect(now.kilns[0].mean_K).toBeCloseTo(exact.mean[1], 1);
  expect(now.kilns[0].sd_K / sd[1]).toBeCloseTo(1, 2);
  expect(now.kilns[0].withSoftness).toBeCloseTo(exact.covariance[0][1] / sd[0] / sd[1], 2);
});

test('three bars, two kilns, witness cones: the same', () => {
  const cones: Evidence = { kiln: 'small', pace, pieces: [], offset: { mean_K: 8, sd_K: 3 } };
  const now = posterior(
    { ...start, kilns: [...start.kilns, { name: 'small', mean_K: 0, sd_K: 6, withSoftness: 0 }] },
    [bar('big', 0.4, 0.1), bar('big', 0.52, 0.1), bar('small', 0.7, 0.08), cones],
    NORMAL,
  );
  const own = { mean: 0, sd: FIRING_SCATTER_K };
  const exact = regression(
    [start.softness, { mean: 0, sd: 6 }, { mean: 0, sd: 6 }, own, own, own, own],
    [
      { x: [1, PER_K, 0, PER_K, 0, 0, 0], y: 0.4, sd: 0.1 },
      { x: [1, PER_K, 0, 0, PER_K, 0, 0], y: 0.52, sd: 0.1 },
      { x: [1, 0, PER_K, 0, 0, PER_K, 0], y: 0.7, sd: 0.08 },
      { x: [0, 0, 1, 0, 0, 0, 1], y: 8, sd: 3 },
    ],
  );
  const sd = exact.covariance.map((row, i) => Math.sqrt(row[i]));
  expect(now.softness.mean).toBeCloseTo(exact.mean[0], 2);
  expect(now.softness.sd / sd[0]).toBeCloseTo(1, 2);
  expect(now.kilns.map((k) => k.mean_K)[1]).toBeCloseTo(exact.mean[2], 1);
  expect(now.kilns[1].sd_K / sd[2]).toBeCloseTo(1, 2);
});

test('a thermometer 40 °C off, which nobody feared: four firings beside cones find what linear regression finds', () => {
  const cones: Evidence = { kiln: 'big', pace, pieces: [], offset: { mean_K: 40, sd_K: 3 } };
  const now = posterior(start, [cones, cones, cones, cones], NORMAL);
  const own = { mean: 0, sd: FIRING_SCATTER_K };
  const exact = regression(
    [{ mean: 0, sd: 6 }, own, own, own, own],
    [0, 1, 2, 3].map((k) => ({ x: [1, ...[0, 1, 2, 3].map((j) => (j === k ? 1 : 0))], y: 40, sd: 3 })),
  );
  expect(exact.mean[0]).toBeGreaterThan(35);
  expect(now.kilns[0].mean_K).toBeCloseTo(exact.mean[0], 1);
  expect(now.kilns[0].sd_K / Math.sqrt(exact.covariance[0][0])).toBeCloseTo(1, 2);
});

/** A film whose one reading is straight in the ln of the clock. */
const line = (slope: number): FilmTable => ({
  lnClock: [-6, 6],
  readings: { height: [100 - 6 * slope, 100 + 6 * slope] },
  levers: { height: 0 },
  reach: 6,
  meshSd: 0,
});
const piece = (value_mm: number, sd_mm: number, more: Partial<PieceEvidence> = {}): PieceEvidence => ({
  number: '1',
  form: 'a.form.json',
  attitude: 'upright',
  film: line(10),
  readings: [{ key: 'height', value_mm, sd_mm }],
  ...more,
});

test('pieces: their own scatter and the error of measuring are added as independent', () => {
  const pieces = [104, 103.2, 105.1, 104.4].map((v) => piece(v, 0.5));
  const fixed: Belief = { ...start, size: { mean: 0, sd: 1e-6 } };
  const now = posterior(fixed, [{ kiln: 'big', pace, pieces }], NORMAL);
  const exact = regression(
    [start.softness, { mean: 0, sd: 6 }, { mean: 0, sd: FIRING_SCATTER_K }],
    [0.4, 0.32, 0.51, 0.44].map((y) => ({ x: [1, PER_K, PER_K], y, sd: Math.hypot(0.12, 0.05) })),
  );
  expect(now.softness.mean).toBeCloseTo(exact.mean[0], 2);
  expect(now.softness.sd / Math.sqrt(exact.covariance[0][0])).toBeCloseTo(1, 2);
});

test('the order of what was learned is nothing, and learning nothing changes nothing', () => {
  const evidence: Evidence[] = [
    bar('big', 0.4, 0.1),
    { kiln: 'small', pace, pieces: [piece(103, 0.5), piece(104, 0.5)] },
    bar('small', 0.2, 0.1),
  ];
  const one = posterior(start, evidence);
  const other = posterior(start, evidence.toReversed());
  expect(other.softness.mean).toBeCloseTo(one.softness.mean, 9);
  expect(other.softness.sd).toBeCloseTo(one.softness.sd, 9);
  expect(posterior(start, [])).toBe(start);
});

test('one slip of the rule moves the belief by less than one of its deviations; under the normal law by many', () => {
  const good = [104, 103.2, 105.1, 104.4].map((v) => piece(v, 0.5));
  const bad = [...good, piece(112, 0.5)];
  const of = (pieces: PieceEvidence[], freedom?: number): Belief =>
    posterior(start, [{ kiln: 'big', pace, pieces }], freedom);
  const [before, after] = [of(good), of(bad)];
  const left = of(bad, NORMAL).softness.mean - of(good, NORMAL).softness.mean;
  expect(Math.abs(after.softness.mean - before.softness.mean)).toBeLessThan(before.softness.sd);
  expect(left).toBeGreaterThan(2 * Math.abs(after.softness.mean - before.softness.mean));
});

test('a piece that fell says: softer than that; one that stands at the same clock says the other thing', () => {
  const film = { ...line(0), falls: 0.5, reach: 0.5 };
  const fell = posterior(start, [{ kiln: 'big', pace, pieces: [piece(0, 1, { film, loss: 'fell over' })] }]);
  const stood = posterior(start, [{ kiln: 'big', pace, pieces: [piece(100, 1, { film, readings: [] })] }]);
  expect(fell.softness.mean).toBeGreaterThan(0.35);
  expect(stood.softness.mean).toBeLessThan(-0.05);
  const cracked = posterior(start, [
    { kiln: 'big', pace, pieces: [piece(0, 1, { film, loss: 'cracked', readings: [] })] },
  ]);
  expect(Math.abs(cracked.softness.mean)).toBeLessThan(0.01);
});
