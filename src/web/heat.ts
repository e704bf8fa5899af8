import type { TemperatureHistory } from '../making/clay/temperature-history.ts';
import type { Picture } from './worker/film.ts';

/** Temperature at a time, straight between the points given. Kelvin. */
export const temperatureAt_K = ({ time_s, temperature_K }: TemperatureHistory, t_s: number): number => {
  const after = time_s.findIndex((t) => t >= t_s);
  if (after <= 0) return temperature_K[after < 0 ? temperature_K.length - 1 : 0]!;
  const [a, b] = [time_s[after - 1]!, time_s[after]!];
  const share = b === a ? 1 : (t_s - a) / (b - a);
  return temperature_K[after - 1]! + share * (temperature_K[after]! - temperature_K[after - 1]!);
};

/** What has happened up to a time: the history cut there. */
export const historyUpTo = (history: TemperatureHistory, t_s: number): TemperatureHistory => {
  const kept = history.time_s.filter((t) => t < t_s).length;
  return {
    time_s: Float64Array.of(...history.time_s.slice(0, kept), t_s),
    temperature_K: Float64Array.of(...history.temperature_K.slice(0, kept), temperatureAt_K(history, t_s)),
  };
};

/** Place in a film (picture number and part of the way to the next) at a time of the firing. */
export const placeAt = (pictures: readonly Pick<Picture, 'time_s'>[], t_s: number): number => {
  const after = pictures.findIndex((p) => p.time_s >= t_s);
  if (after < 0) return pictures.length - 1;
  if (after === 0) return 0;
  const [a, b] = [pictures[after - 1]!.time_s, pictures[after]!.time_s];
  return after - 1 + (b === a ? 1 : (t_s - a) / (b - a));
};
