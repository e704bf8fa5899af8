import { quantileOf } from '../../kernel/numerics/normal.ts';
import { celsiusFromKelvin } from '../../units.ts';
import { timeAtClock } from '../clay/clay-history.ts';
import { type TemperatureHistory, temperatureAt } from '../clay/temperature-history.ts';
import { heatWork } from '../kiln/heat-work.ts';
import type { Moment } from './ensemble.ts';
import { OUTSIDE } from './spread.ts';

/** When something happens, in the words of the kiln: the nearest cone down by then, and the temperature. */

/** The heat as far as it had got at a time. */
const heatUpTo = (heat: TemperatureHistory, time_s: number): TemperatureHistory => {
  const kept = heat.time_s.findLastIndex((t) => t < time_s) + 1;
  return {
    time_s: Float64Array.of(...heat.time_s.slice(0, kept), time_s),
    temperature_K: Float64Array.of(...heat.temperature_K.slice(0, kept), temperatureAt(heat, time_s)),
  };
};

/** The whole cones of a heat and which of them is nearest, -1 below them all. */
const nearestCone = (heat: TemperatureHistory): { readonly names: string[]; readonly nearest: number } => {
  const whole = heatWork(heat).cones.filter(({ cone }) => !cone.includes('.'));
  const up = whole.findIndex((c) => c.work < 1);
  const down = up < 0 ? whole.length - 1 : up - 1;
  const nearer = up >= 0 && whole[up]!.bend >= 0.5 ? up : down;
  return { names: whole.map((c) => c.cone), nearest: nearer };
};

/** A heat's highest temperature and when it is left. */
const leavesPeak_s = ({ time_s, temperature_K }: TemperatureHistory): number => {
  const peak_K = temperature_K.reduce((a, b) => Math.max(a, b), 0);
  return time_s[temperature_K.findLastIndex((T) => T >= peak_K - 0.5)]!;
};

/** e.g. `at about cone 8 (7 to 9), 1250 °C`, or `in the cooling, at about 1230 °C`. */
export const whenTold = (
  heat: TemperatureHistory,
  time_s: number,
  clock: number,
  trials: readonly Moment[],
): string => {
  const at_C = `${Math.round(celsiusFromKelvin(temperatureAt(heat, time_s)))} °C`;
  if (time_s > leavesPeak_s(heat)) return `in the cooling, at about ${at_C}`;
  const { names, nearest } = nearestCone(heatUpTo(heat, time_s));
  if (nearest < 0) return `at about ${at_C}, before any cone is down`;
  const others = trials
    .filter((t) => t.clock >= clock)
    .map((t) => nearestCone(heatUpTo(t.history, timeAtClock(t.history, clock / t.hurry))).nearest);
  const name = (i: number): string => names[Math.max(0, Math.round(i))]!;
  const low = name(quantileOf([...others, nearest], OUTSIDE));
  const high = name(quantileOf([...others, nearest], 1 - OUTSIDE));
  const interval = others.length === 0 || low === high ? '' : ` (${low} to ${high})`;
  return `at about cone ${name(nearest)}${interval}, ${at_C}`;
};
