import { expect, test } from 'vitest';
import { bestKnownAt_C, softnessPosterior, viscosityAt } from './softness-grid.ts';

/**
 * NIST Statistical Reference Datasets, linear regression, "Norris" (ozone monitors, J. Norris), lower level of
 * difficulty; data and certified values from memory. They prove themselves: the exact least squares below reproduces the
 * certified figures to nine digits, which no slip in the data would.
 */
const NORRIS =
  `0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3 449.1 448.6
778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1
998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1
117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5`
    .trim()
    .split(/\s+/)
    .map(Number);
const points = Array.from({ length: 36 }, (_, i) => ({ y: NORRIS[2 * i], x: NORRIS[2 * i + 1] }));
const CERTIFIED = {
  intercept: -0.262323073774029,
  interceptSd: 0.232818234301152,
  slope: 1.00211681802045,
  slopeSd: 0.429796848199937e-3,
  residualSd: 0.884796396144373,
};

test('the data are the certified ones: plain least squares gives the certified line', () => {
  const n = points.length;
  const mean = (f: (p: { x: number; y: number }) => number) => points.reduce((s, p) => s + f(p), 0) / n;
  const [mx, my] = [mean((p) => p.x), mean((p) => p.y)];
  const slope = mean((p) => (p.x - mx) * (p.y - my)) / mean((p) => (p.x - mx) ** 2);
  expect(slope).toBeCloseTo(CERTIFIED.slope, 10);
  expect(my - slope * mx).toBeCloseTo(CERTIFIED.intercept, 9);
});

test('the grid finds the certified line, its standard deviations and how they hang together', () => {
  const ln = (intercept: number, slope: number): number =>
    points.reduce((s, p) => s - 0.5 * ((p.y - intercept - slope * p.x) / CERTIFIED.residualSd) ** 2, 0);
  // A prior so wide that it says nothing, and a first guess of the ridge no better than its sign.
  const found = softnessPosterior(
    { sdSoftness: 40, activation_kJ_mol: 0.98, sdActivation_kJ_mol: 0.1, least_kJ_mol: 0, most_kJ_mol: 2 },
    ln,
    -400,
  );
  expect(Math.abs(found.softness - CERTIFIED.intercept) / CERTIFIED.interceptSd).toBeLessThan(0.01);
  expect(Math.abs(found.activation_kJ_mol - CERTIFIED.slope) / CERTIFIED.slopeSd).toBeLessThan(0.01);
  expect(found.sdSoftness / CERTIFIED.interceptSd).toBeCloseTo(1, 2);
  expect(found.sdActivation_kJ_mol / CERTIFIED.slopeSd).toBeCloseTo(1, 2);
  // Correlation of intercept and slope: -x̄/√(mean of x²), exact.
  const mean = (f: (x: number) => number) => points.reduce((s, p) => s + f(p.x), 0) / 36;
  expect(found.correlation).toBeCloseTo(-mean((x) => x) / Math.sqrt(mean((x) => x * x)), 3);
});

test('without data the belief is the prior, and with both it is their normal product', () => {
  const prior = {
    sdSoftness: 0.5,
    activation_kJ_mol: 500,
    sdActivation_kJ_mol: 75,
    least_kJ_mol: 50,
    most_kJ_mol: 950,
  };
  const none = softnessPosterior(prior, () => 0, 0);
  expect(none.sdSoftness).toBeCloseTo(0.5, 3);
  expect(none.sdActivation_kJ_mol).toBeCloseTo(75, 1);
  const one = softnessPosterior(prior, (s) => -0.5 * ((s - 1) / 0.5) ** 2, 0);
  expect(one.softness).toBeCloseTo(0.5, 3);
  expect(one.sdSoftness).toBeCloseTo(0.5 / Math.SQRT2, 3);
});

test('viscosity is known best where it no longer hangs on the activation energy', () => {
  const belief = {
    softness: 0.2,
    activation_kJ_mol: 480,
    sdSoftness: 0.4,
    sdActivation_kJ_mol: 60,
    correlation: 0.9,
  };
  const reference = { value_Pa_s: 3e9, at_C: 1285 };
  const best = bestKnownAt_C(belief, reference);
  const at = (C: number): number => viscosityAt(belief, reference, C).factor80;
  expect(at(best)).toBeLessThan(at(best - 5));
  expect(at(best)).toBeLessThan(at(best + 5));
  expect(viscosityAt(belief, reference, 1285).value_Pa_s).toBeCloseTo(3e9 * Math.exp(-0.2), 0);
});
