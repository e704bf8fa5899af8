import { celsiusFromKelvin, GAS_CONSTANT_J_molK, GRAVITY_m_s2, kelvinFromCelsius } from '../../units.ts';
import type { Clay } from '../clay/clay.ts';
import { clayHistory } from '../clay/clay-history.ts';
import { startPorosity } from '../clay/sintering.ts';
import type { TemperatureHistory } from '../clay/temperature-history.ts';

/** What is wrong with a heat for a clay; data, since a person may want to see the piece all the same. */
export interface HeatRemark {
  readonly kind:
    | 'stays-chalk'
    | 'underfired'
    | 'everything-flows'
    | 'overfired'
    | 'ends-hot'
    | 'fast-through-quartz';
  /** `fault`: nothing useful comes out. `warning`: it may not be what was meant. */
  readonly severity: 'fault' | 'warning';
  readonly field: string;
  readonly value: string;
  /** What would be right. */
  readonly expected: string;
  readonly text: string;
}

/** Share of the clay's firing shrinkage below which it is still chalk, and from which it is fully fired. */
const CHALK = 0.05;
const FULLY_FIRED = 0.98;
/** The yardstick for softness: a flat bar of fired clay, this thick, on two supports this far apart. */
const BAR_THICKNESS_m = 0.005;
const BAR_SPAN_m = 0.1;
/** Sag of that bar: more than a third of its span and any wall flows; more than this much is a lot. */
const FLOWS_m = BAR_SPAN_m / 3;
const MUCH_m = 0.015;
/** Quartz inversion; cooling through it at no more than this is advised (Fortuna, Sanitaryware, 2000, as quoted). */
const QUARTZ_K = kelvinFromCelsius(573);
const QUARTZ_RATE_C_h = 50;
const ENDS_HOT_K = kelvinFromCelsius(250);

const celsius = (T_K: number): string => `${Math.round(celsiusFromKelvin(T_K))} °C`;
const mm = (l_m: number): string => `${Math.round(l_m * 1000)} mm`;

/** Sag of the yardstick bar in metres, 5 rho g L⁴/(96 h²) ∫dt/eta: small-sag beam theory with 3 eta for E. */
const barSag_m = (clay: Clay, creepClock: number): number =>
  ((5 * clay.firedDensity.value_kg_m3 * GRAVITY_m_s2 * BAR_SPAN_m ** 4) / (96 * BAR_THICKNESS_m ** 2)) *
  creepClock;

/** The peak at which an activated process does `times` as much in the same time: Arrhenius, turned round. */
const peakFor = (peak_K: number, activation_kJ_mol: number, times: number): number =>
  1 / (1 / peak_K - (GAS_CONSTANT_J_molK * Math.log(times)) / (activation_kJ_mol * 1000));

const tooLittle = (clay: Clay, peak_K: number, shrunk: number, porosity: number): HeatRemark | undefined => {
  if (shrunk >= FULLY_FIRED) return undefined;
  const start = startPorosity(clay);
  const done = Math.log(start / porosity);
  const wanted = Math.log(start / (start * (1 - FULLY_FIRED)));
  const right_K = peakFor(peak_K, clay.sintering.activation_kJ_mol, wanted / Math.max(done, 1e-300));
  const chalk = shrunk < CHALK;
  const percent = Math.round(100 * shrunk);
  return {
    kind: chalk ? 'stays-chalk' : 'underfired',
    severity: chalk ? 'fault' : 'warning',
    field: 'schedule.segments (peak)',
    value: celsius(peak_K),
    expected: `about ${celsius(right_K)} at the same pace, or a longer hold, for ${clay.name} to close its pores`,
    text: chalk
      ? `The heat never melts anything: the wall stays chalk, ${percent} % of its firing shrinkage is done.`
      : `Underfired: ${percent} % of the firing shrinkage is done, the wall stays porous.`,
  };
};

const tooMuch = (clay: Clay, peak_K: number, creepClock: number): HeatRemark | undefined => {
  const sag_m = barSag_m(clay, creepClock);
  if (sag_m <= MUCH_m) return undefined;
  const flows = sag_m > FLOWS_m;
  const right_K = peakFor(peak_K, clay.sagViscosity.activation_kJ_mol, MUCH_m / 2 / sag_m);
  const bar = `a flat bar ${mm(BAR_THICKNESS_m)} thick on supports ${mm(BAR_SPAN_m)} apart`;
  return {
    kind: flows ? 'everything-flows' : 'overfired',
    severity: flows ? 'fault' : 'warning',
    field: 'schedule.segments (peak)',
    value: celsius(peak_K),
    expected: `about ${celsius(right_K)} at the same pace, or a shorter hold, for ${clay.name}`,
    text: flows
      ? `The heat melts everything: ${bar} would sink by more than a third of its span; no wall keeps its shape.`
      : `Very soft: ${bar} would sag ${mm(sag_m)}.`,
  };
};

const coolingRemarks = ({ time_s, temperature_K }: TemperatureHistory): HeatRemark[] => {
  const remarks: HeatRemark[] = [];
  const end_K = temperature_K.at(-1)!;
  if (end_K > ENDS_HOT_K) {
    remarks.push({
      kind: 'ends-hot',
      severity: 'warning',
      field: 'schedule.segments (last)',
      value: celsius(end_K),
      expected: 'the cooling too, as ramps towards room temperature: clay still moves while it cools',
      text: `The schedule ends at ${celsius(end_K)}: what the piece does in cooling is not counted.`,
    });
  }
  for (let i = 1; i < time_s.length; i++) {
    if (!(temperature_K[i - 1]! > QUARTZ_K && temperature_K[i]! <= QUARTZ_K)) continue;
    const rate_C_h = (3600 * (temperature_K[i - 1]! - temperature_K[i]!)) / (time_s[i]! - time_s[i - 1]!);
    if (rate_C_h <= QUARTZ_RATE_C_h * (1 + 1e-9)) continue;
    remarks.push({
      kind: 'fast-through-quartz',
      severity: 'warning',
      field: `schedule.segments[${i - 1}] (cooling through 573 °C)`,
      value: `${Math.round(rate_C_h)} °C/h`,
      expected: `no more than ${QUARTZ_RATE_C_h} °C/h (advice for sanitaryware, Fortuna 2000, as quoted; thin ware may bear more)`,
      text: 'Quartz shrinks at once at 573 °C: cooling fast through it can crack a piece.',
    });
  }
  return remarks;
};

/** Whether this heat makes anything of this clay: never melts it, melts it all, or something to think about. */
export const judgeHeat = (history: TemperatureHistory, clay: Clay): HeatRemark[] => {
  const peak_K = history.temperature_K.reduce((a, b) => Math.max(a, b), 0);
  const after = clayHistory(clay, history);
  const shrinkage = clay.firingShrinkage.value_percent / 100;
  const shrunk = shrinkage > 0 ? (1 - after.linearScale.at(-1)!) / shrinkage : 1;
  return [
    tooLittle(clay, peak_K, shrunk, after.porosity.at(-1)!),
    tooMuch(clay, peak_K, after.creepClock.at(-1)!),
    ...coolingRemarks(history),
  ].filter((r) => r !== undefined);
};
