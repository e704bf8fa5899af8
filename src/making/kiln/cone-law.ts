/**
 * A rate law for each cone: it has bent fully when the heat-work A ∫ exp(-E/RT) dt reaches 1, whatever the heat did
 * on the way. That is why holds count and why "area under the curve" is no measure of heat-work.
 *
 * E and A of a cone come from its two printed end points at 60 and 150 °C/h, in closed form (Kissinger's relation
 * for a steady ramp, then A from the integral). Not fitted to, and so the check: the 15 °C/h column, four times
 * slower than anything fitted. Measured (cone-law.test.ts), °C, model less chart at 15 °C/h:
 *   read in print (019 to 08, and 6): rms 5.7, worst 12.4; from memory (07 to 14): rms 7.2, worst 14.
 * Tried and lost: E smoothed over neighbouring cones, since the chart's whole degrees make E scatter. Smoothing
 * over one cone to each side cost 0.9 °C rms (worst 2.5) at the fitted rates and gave 7.1 and 6.8 °C at 15 °C/h;
 * wider was worse at both. The scatter is more the cones' own making than rounding.
 * So: between 60 and 150 °C/h good to about a degree against the chart, in very slow firing to about 7 °C, which at
 * cones 8 to 10 is a third to two thirds of a cone.
 */
import { GAS_CONSTANT_J_molK, kelvinFromCelsius } from '../../units.ts';
import type { TemperatureHistory } from '../clay/temperature-history.ts';
import { type ChartCone, CONE_CHART } from './cones.ts';

export interface ConeLaw {
  readonly cone: string;
  readonly chart: ChartCone;
  readonly activation_J_mol: number;
  /** Where the rate is referred to: the end point at 60 °C/h. */
  readonly reference_K: number;
  /** Heat-work done per second at the reference temperature. */
  readonly rate_per_s: number;
}

const SLOW_C_h = 60;
const FAST_C_h = 150;
/** A change of temperature too small to tell from a hold. */
const SAME_K = 1e-3;

/** Arrhenius factor against the reference temperature. */
const factor = (activation_J_mol: number, T_K: number, reference_K: number): number =>
  Math.exp((-activation_J_mol / GAS_CONSTANT_J_molK) * (1 / T_K - 1 / reference_K));

/**
 * ∫ from 0 to T of exp(-(E/R)(1/T - 1/Tref)) dT in kelvin: the asymptotic series of the exponential integral,
 * (R T²/E)(1 - 2!/x + 3!/x² - …) times the factor, x = E/RT (Abramowitz & Stegun 5.1.51). x is 25 to 80 where
 * cones bend, and ten terms are right to 1e-6 or better.
 */
const rampIntegral_K = (activation_J_mol: number, T_K: number, reference_K: number): number => {
  const x = activation_J_mol / (GAS_CONSTANT_J_molK * T_K);
  let sum = 1;
  let term = 1;
  for (let k = 2; k <= 10 && k < x; k++) {
    term *= -k / x;
    sum += term;
  }
  return (T_K / x) * sum * factor(activation_J_mol, T_K, reference_K);
};

/** E in J/mol from end points at two steady rates: R (ln(b2/b1) - 2 ln(T2/T1))/(1/T1 - 1/T2), Kissinger 1957. */
export const activationFromTwoRates = (slow_K: number, fast_K: number, rateRatio: number): number =>
  (GAS_CONSTANT_J_molK * (Math.log(rateRatio) - 2 * Math.log(fast_K / slow_K))) / (1 / slow_K - 1 / fast_K);

const lawOf = (chart: ChartCone): ConeLaw => {
  const slow_K = kelvinFromCelsius(chart.at60_C);
  const fast_K = kelvinFromCelsius(chart.at150_C);
  const E = activationFromTwoRates(slow_K, fast_K, FAST_C_h / SLOW_C_h);
  // Kissinger leaves a trace between the two end points; A is the geometric mean of what each asks for.
  const bySlow = SLOW_C_h / 3600 / rampIntegral_K(E, slow_K, slow_K);
  const byFast = FAST_C_h / 3600 / rampIntegral_K(E, fast_K, slow_K);
  const rate_per_s = Math.sqrt(bySlow * byFast);
  return { cone: chart.cone, chart, activation_J_mol: E, reference_K: slow_K, rate_per_s };
};

/** A law for every cone of the chart, softest first. */
export const CONE_LAWS: readonly ConeLaw[] = CONE_CHART.map(lawOf);

/** Heat-work a cone takes up per second at a steady temperature; 1 in all bends it fully. */
export const workRate_per_s = (law: ConeLaw, T_K: number): number =>
  law.rate_per_s * factor(law.activation_J_mol, T_K, law.reference_K);

/** Heat-work of a whole history for one cone, exact for a temperature that is straight between its points. */
export const workOf = (law: ConeLaw, { time_s, temperature_K }: TemperatureHistory): number => {
  const { activation_J_mol: E, reference_K: ref } = law;
  let work_s = 0;
  for (let i = 1; i < time_s.length; i++) {
    const dt_s = time_s[i]! - time_s[i - 1]!;
    const from_K = temperature_K[i - 1]!;
    const to_K = temperature_K[i]!;
    work_s +=
      Math.abs(to_K - from_K) < SAME_K
        ? dt_s * factor(E, (from_K + to_K) / 2, ref)
        : (dt_s / (to_K - from_K)) * (rampIntegral_K(E, to_K, ref) - rampIntegral_K(E, from_K, ref));
  }
  return law.rate_per_s * work_s;
};

/**
 * How far a cone has come down for its heat-work: 0 upright, 1 with the tip at 6 o'clock.
 * It starts late and gathers pace. The two numbers are set by one published remark, 10 degrees of arc being 5 °C early
 * in the bend and 1 °C late (Reimbold & Strick, guide to the use of Orton cones, figure caption, cone 10 at 60 °C/h;
 * which end is which is our reading). The whole bend then takes 17 to 21 min at 60 °C/h, where the maker's chart says
 * 15 to 25 min: that was not fitted.
 */
export const bendOf = (work: number): number =>
  Math.min(1, Math.max(0, (BEND_GROWTH * work ** BEND_POWER - 1) / (BEND_GROWTH - 1)));

/** How many times faster a cone goes down at the end of its bend than at the start. */
const BEND_GROWTH = 7;
const BEND_POWER = 2.2;
