import { valueAt } from '../../kernel/numerics/between.ts';

/**
 * What the heat did: temperature against time, straight between the points.
 * Same length, time rising from 0; a schedule gives one exactly, a kiln log gives one as read.
 */
export interface TemperatureHistory {
  readonly time_s: Float64Array;
  readonly temperature_K: Float64Array;
}

/** Temperature in kelvin at a time; before the start and after the end it stays as it was there. */
export const temperatureAt = (history: TemperatureHistory, time_s: number): number =>
  valueAt(history.time_s, history.temperature_K, time_s);

/** The heat with its peak off by this much, everything cooler in proportion above where it began. */
export const hotterBy = (heat: TemperatureHistory, off_K: number): TemperatureHistory => {
  const start_K = heat.temperature_K[0]!;
  const peak_K = heat.temperature_K.reduce((a, b) => Math.max(a, b), 0);
  const share = off_K / Math.max(1, peak_K - start_K);
  return { time_s: heat.time_s, temperature_K: heat.temperature_K.map((T) => T + share * (T - start_K)) };
};
