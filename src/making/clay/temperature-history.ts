/**
 * What the heat did: temperature against time, straight between the points.
 * Same length, time rising from 0; a schedule gives one exactly, a kiln log gives one as read.
 */
export interface TemperatureHistory {
  readonly time_s: Float64Array;
  readonly temperature_K: Float64Array;
}

/** Index i of the stretch [x_i, x_i+1] that holds `at`, first or last when outside; `rising` sorted, length ≥ 2. */
export const stretchAt = (rising: Float64Array, at: number): number => {
  let low = 0;
  let high = rising.length - 1;
  while (high - low > 1) {
    const mid = (low + high) >> 1;
    if (rising[mid]! <= at) low = mid;
    else high = mid;
  }
  return low;
};

/** Temperature in kelvin at a time; before the start and after the end it stays as it was there. */
export const temperatureAt = (history: TemperatureHistory, time_s: number): number => {
  const { time_s: t, temperature_K: T } = history;
  const last = t.length - 1;
  if (time_s <= t[0]!) return T[0]!;
  if (time_s >= t[last]!) return T[last]!;
  const i = stretchAt(t, time_s);
  const f = (time_s - t[i]!) / (t[i + 1]! - t[i]!);
  return T[i]! + f * (T[i + 1]! - T[i]!);
};
