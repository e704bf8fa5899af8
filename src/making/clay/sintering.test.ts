import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { kelvinFromCelsius } from '../../units.ts';
import { parseClay } from './clay.ts';
import {
  bulkFactor,
  closingRate_per_s,
  closingRateFromGrains_per_s,
  freeRate_per_s,
  linearScale,
  porosityAfter,
  shearFactor,
  sinteringStress_Pa,
  startPorosity,
  totalPorosity,
  uniaxialFactor,
  viscousPoisson,
} from './sintering.ts';
import { sagViscosity_Pa_s } from './viscosity.ts';

const clay = parseClay(JSON.parse(readFileSync('examples/studio-porcelain.clay.json', 'utf8')));

/** Closed form of Olevsky's equations (Mater. Sci. Eng. R 23 (1998) 41-100) for free sintering from 40 % pores. */
const FREE = [
  [0.1, 0.319406, 0.958858],
  [0.25, 0.227913, 0.91938],
  [0.5, 0.129861, 0.883461],
  [1, 0.04216, 0.85563],
  [2, 0.004444, 0.844686],
] as const;

describe('free sintering from 40 % pores', () => {
  test.each(FREE)('alpha t/(eta r0) = %d: pores %d, length %d', (tau, porosity, length) => {
    // alpha = r0 = eta = 1, so tau is the time
    const theta = porosityAfter(0.4, closingRateFromGrains_per_s(1, 1, 1) * tau);
    expect(theta).toBeCloseTo(porosity, 6);
    expect(linearScale(0.4, theta)).toBeCloseTo(length, 6);
  });

  test.each(FREE)('the rate equations themselves, stepped to %d, arrive there too', (tau, porosity) => {
    // d(rho)/dt = -rho tr(rate), rho exp(-tr d eps) each step (the exact update of TFEL/MFront, SOVS page)
    const k = closingRateFromGrains_per_s(1, 1, 1);
    const steps = 20_000;
    let rho = 0.6;
    for (let i = 0; i < steps; i++) {
      const half = rho * Math.exp((-freeRate_per_s(1 - rho, k) * tau) / steps / 2);
      rho *= Math.exp((-freeRate_per_s(1 - half, k) * tau) / steps);
    }
    expect(1 - rho).toBeCloseTo(porosity, 6);
  });

  test('its rate is the sintering stress over twice the bulk viscosity', () => {
    const rate = -sinteringStress_Pa(0.3, 0.3, 1e-6) / (6 * 1e9 * bulkFactor(0.3));
    expect(freeRate_per_s(0.3, closingRateFromGrains_per_s(0.3, 1e9, 1e-6))).toBeCloseTo(3 * rate, 12);
  });
});

test.each([
  [0.25, 9.144],
  [0.3, 11.21],
  [0.35, 13.376],
  [0.4, 15.657],
  [0.45, 18.068],
])('closing all of %d pores shrinks by %d %%: 1-(1-theta)^(1/3)', (theta, percent) => {
  expect(100 * (1 - linearScale(theta, 0))).toBeCloseTo(percent, 3);
});

test.each([0.05, 0.2, 0.4])(
  'under a uniaxial load with %d pores the short forms are the long ones',
  (theta) => {
    const phi = shearFactor(theta);
    const psi = bulkFactor(theta);
    // axial sigma/(3 eta phi) + sigma/(18 eta psi), lateral -sigma/(6 eta phi) + sigma/(18 eta psi)
    const axial = 1 / (3 * phi) + 1 / (18 * psi);
    const lateral = -1 / (6 * phi) + 1 / (18 * psi);
    expect(viscousPoisson(theta)).toBeCloseTo(-lateral / axial, 12);
    expect(viscousPoisson(theta)).toBeCloseTo((3 * psi - phi) / (6 * psi + phi), 12);
    expect(uniaxialFactor(theta)).toBeCloseTo(1 / (3 * axial), 12);
  },
);

test('dense, the body is an incompressible fluid', () => {
  expect(viscousPoisson(0)).toBe(0.5);
  expect(uniaxialFactor(0)).toBe(1);
  expect(shearFactor(0)).toBe(1);
});

test('all pores closed, the clay has shrunk by just its firing shrinkage and keeps its lasting pores', () => {
  expect(linearScale(startPorosity(clay), 0)).toBeCloseTo(1 - 0.091, 12);
  expect(totalPorosity(clay, 0)).toBeCloseTo(0.04, 12);
});

test('Arrhenius: at 1523 K 450 kJ/mol is a tenth of the viscosity for each 98 K', () => {
  const glass = { ...clay, sagViscosity: { ...clay.sagViscosity, activation_kJ_mol: 450 } };
  const decades = 98 * Math.log10(sagViscosity_Pa_s(glass, 1522.5) / sagViscosity_Pa_s(glass, 1523.5));
  expect(Math.abs(decades - 1)).toBeLessThan(0.01); // R T² ln10/Q = 98.7 K
});

test('at its reference temperatures the clay has its stated values', () => {
  expect(sagViscosity_Pa_s(clay, kelvinFromCelsius(1285))).toBeCloseTo(3e9, -3);
  expect(3600 * closingRate_per_s(clay, kelvinFromCelsius(1200))).toBeCloseTo(3.1, 9);
});
