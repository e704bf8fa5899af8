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
