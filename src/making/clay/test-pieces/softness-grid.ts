import { normalQuantile } from '../../../kernel/numerics/normal.ts';
import { GAS_CONSTANT_J_molK, kelvinFromCelsius } from '../../../units.ts';

/**
 * Belief in two numbers, the softness of a clay at its reference temperature (ln of how many times softer than its file
 * says) and the activation energy, by quadrature on a grid: normal priors, any likelihood, bounds among them. The grid
 * follows the ridge along which the data leave the two open, and is laid anew round what is likely until it settles.
 * Checked against certified straight-line regression (NIST StRD) in softness-grid.test.ts.
 */

export interface Softness {
  readonly softness: number;
  readonly activation_kJ_mol: number;
  readonly sdSoftness: number;
  readonly sdActivation_kJ_mol: number;
  readonly correlation: number;
}

export interface SoftnessPrior {
  readonly sdSoftness: number;
  readonly activation_kJ_mol: number;
  readonly sdActivation_kJ_mol: number;
  /** No softer, no stiffer activation than these are looked at. */
  readonly least_kJ_mol: number;
  readonly most_kJ_mol: number;
}

export type LnLikelihood = (softness: number, activation_kJ_mol: number) => number;

/** 27 nodes over ten standard deviations: 0.4 of one a step, where such sums of smooth peaks are exact. */
const NODES = 27;
const ROUNDS = 12;
const REACH_SD = 5;
const SETTLED = 0.01;

interface Box {
  readonly u: number;
  readonly halfU: number;
  readonly q: number;
  readonly halfQ: number;
}

const node = (mean: number, half: number, i: number): number => mean + half * ((2 * i) / (NODES - 1) - 1);

interface Moments {
  readonly u: number;
  readonly q: number;
  readonly uu: number;
  readonly qq: number;
  readonly uq: number;
}

const momentsOn = (box: Box, ln: (u: number, q: number) => number): Moments => {
  const values = new Float64Array(NODES * NODES);
  let top = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < NODES; i++)
    for (let j = 0; j < NODES; j++) {
      const v = ln(node(box.u, box.halfU, i), node(box.q, box.halfQ, j));
      values[i * NODES + j] = v;
      top = Math.max(top, v);
    }
  let [w0, wu, wq, wuu, wqq, wuq] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < NODES; i++)
    for (let j = 0; j < NODES; j++) {
      const w = Math.exp(values[i * NODES + j] - top);
      const [u, q] = [node(box.u, box.halfU, i), node(box.q, box.halfQ, j)];
      w0 += w;
      wu += w * u;
      wq += w * q;
      wuu += w * u * u;
      wqq += w * q * q;
      wuq += w * u * q;
    }
  const [u, q] = [wu / w0, wq / w0];
  return { u, q, uu: wuu / w0 - u * u, qq: wqq / w0 - q * q, uq: wuq / w0 - u * q };
};

/** @param ridge softness per kJ/mol along which the data leave both open; 0 where nothing is known of it */
export const softnessPosterior = (
  prior: SoftnessPrior,
  likelihood: LnLikelihood,
  ridge: number,
): Softness => {
  const q0 = prior.activation_kJ_mol;
  const ln =
    (slope: number) =>
    (u: number, q: number): number => {
      if (q < prior.least_kJ_mol || q > prior.most_kJ_mol) return Number.NEGATIVE_INFINITY;
      const s = u + slope * (q - q0);
      const before = -0.5 * (s / prior.sdSoftness) ** 2 - 0.5 * ((q - q0) / prior.sdActivation_kJ_mol) ** 2;
      return before + likelihood(s, q);
    };
  let slope = ridge;
  let box: Box = {
    u: 0,
    halfU: REACH_SD * (prior.sdSoftness + Math.abs(slope) * prior.sdActivation_kJ_mol),
    q: q0,
    halfQ: REACH_SD * prior.sdActivation_kJ_mol,
  };
  let m = momentsOn(box, ln(slope));
  for (let round = 0; round < ROUNDS; round++) {
    // No narrower than a step of the grid it was seen on, or a sharp peak between nodes would be missed.
    const sdU = Math.max(Math.sqrt(Math.max(m.uu, 0)), (0.6 * 2 * box.halfU) / (NODES - 1));
    const sdQ = Math.max(Math.sqrt(Math.max(m.qq, 0)), (0.6 * 2 * box.halfQ) / (NODES - 1));
    const lean = m.qq > 0 ? m.uq / m.qq : 0;
    const next: Box = { u: m.u - lean * (m.q - q0), halfU: REACH_SD * sdU, q: m.q, halfQ: REACH_SD * sdQ };
    const settled =
      Math.abs(next.halfU / box.halfU - 1) < SETTLED &&
      Math.abs(next.halfQ / box.halfQ - 1) < SETTLED &&
      Math.abs(lean) * sdQ < SETTLED * sdU;
    slope += lean;
    box = next;
    m = momentsOn(box, ln(slope));
    if (settled) break;
  }
  const ss = m.uu + 2 * slope * m.uq + slope * slope * m.qq;
  const sq = m.uq + slope * m.qq;
  const sdS = Math.sqrt(ss);
  const sdQ = Math.sqrt(m.qq);
  return {
    softness: m.u + slope * (m.q - q0),
    activation_kJ_mol: m.q,
    sdSoftness: sdS,
    sdActivation_kJ_mol: sdQ,
    correlation: sq / (sdS * sdQ),
  };
};

export interface ViscosityAt {
  readonly at_C: number;
  readonly value_Pa_s: number;
  /** 80 %. */
  readonly low_Pa_s: number;
  readonly high_Pa_s: number;
  readonly factor80: number;
}

interface Reference {
  readonly value_Pa_s: number;
  readonly at_C: number;
}

const perActivation = (at_C: number, { at_C: from_C }: Reference): number =>
  (1000 / GAS_CONSTANT_J_molK) * (1 / kelvinFromCelsius(at_C) - 1 / kelvinFromCelsius(from_C));

/** Viscosity at a temperature: ln η = ln η0 - softness + (Q/R)(1/T - 1/T0), normal as its two parts are. */
export const viscosityAt = (belief: Softness, reference: Reference, at_C: number): ViscosityAt => {
  const k = perActivation(at_C, reference);
  const value_Pa_s = reference.value_Pa_s * Math.exp(k * belief.activation_kJ_mol - belief.softness);
  const { sdSoftness: a, sdActivation_kJ_mol: b, correlation } = belief;
  const sd = Math.sqrt(Math.max(0, a * a + k * k * b * b - 2 * k * a * b * correlation));
  const factor80 = Math.exp(normalQuantile(0.9) * sd);
  return { at_C, value_Pa_s, low_Pa_s: value_Pa_s / factor80, high_Pa_s: value_Pa_s * factor80, factor80 };
};

/** The temperature at which the viscosity is known best: there it hangs no more on the activation energy. */
export const bestKnownAt_C = (belief: Softness, reference: Reference): number => {
  const k = (belief.correlation * belief.sdSoftness) / belief.sdActivation_kJ_mol;
  return 1 / (1 / kelvinFromCelsius(reference.at_C) + (k * GAS_CONSTANT_J_molK) / 1000) - 273.15;
};
