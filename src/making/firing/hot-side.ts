import { celsiusFromKelvin } from '../../units.ts';
import type { Clay } from '../clay/clay.ts';
import { type ClayHistory, timeAtClock } from '../clay/clay-history.ts';
import { temperatureAt } from '../clay/temperature-history.ts';
import { sagViscosity_Pa_s } from '../clay/viscosity.ts';
import type { Warning } from './firing.ts';
import type { Setting } from './setting.ts';

/**
 * One side of the kiln hotter: each part of the wall is as soft as its own temperature makes it, T + dT, with dT
 * running straight across the piece as it is set. dT goes with the clay: a part that moves keeps its own.
 */
export type HotSide = NonNullable<Setting['hotSide']>;

/** @returns warmer than the middle by so much (K), one a triangle: ±difference/2 at the outermost nodes */
export const warmerBy = (hot: HotSide, positions: Float64Array, triangles: Uint32Array): Float64Array => {
  const angle = (hot.towards_deg * Math.PI) / 180;
  const [x, y] = [Math.cos(angle), Math.sin(angle)];
  const towards = (n: number): number => x * positions[3 * n] + y * positions[3 * n + 1];
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let n = 0; n < positions.length / 3; n++) {
    low = Math.min(low, towards(n));
    high = Math.max(high, towards(n));
  }
  const out = new Float64Array(triangles.length / 3);
  for (let t = 0; t < out.length; t++) {
    const middle =
      (towards(triangles[3 * t]) + towards(triangles[3 * t + 1]) + towards(triangles[3 * t + 2])) / 3;
    out[t] = high > low ? hot.difference_C * ((middle - low) / (high - low) - 0.5) : 0;
  }
  return out;
};

/** Viscosity at T + dT against that at T, by the clay's own law; below 1 where it is hotter. */
export const softerBy = (clay: Clay, temperature_K: number, warmer_K: Float64Array): Float64Array => {
  const middle = sagViscosity_Pa_s(clay, temperature_K);
  return warmer_K.map((dT) => sagViscosity_Pa_s(clay, temperature_K + dT) / middle);
};

/**
 * What a creep problem on the unshrunk clock takes as viscosity (that clock already carries the viscosity at the
 * middle of the piece): 1 where the heat is even, else one factor a triangle at each clock reading.
 * @param positions as set in the kiln, 3 × nodes, m
 */
export const viscosityAt = (
  hot: HotSide | undefined,
  piece: { readonly positions: Float64Array; readonly triangles: Uint32Array },
  clay: Clay,
  history: ClayHistory,
): 1 | ((clock: number) => Float64Array) => {
  if (!hot || hot.difference_C === 0) return 1;
  const warmer = warmerBy(hot, piece.positions, piece.triangles);
  const whole = history.creepClockUnshrunk[history.creepClockUnshrunk.length - 1];
  return (clock) => {
    const soft = Math.min(1 - HARDLY, Math.max(HARDLY, clock / whole)) * whole;
    return softerBy(clay, temperatureAt(history, timeAtClock(history, soft)), warmer);
  };
};

/**
 * The clock begins and ends in a cold kiln, where the law makes a few degrees a thousandfold and nothing moves. A step
 * from there would carry that into the soft part (a tube leant 40 % too far), so the first and last hundredth of all
 * the softness there is take the temperature of their inner edge.
 */
const HARDLY = 0.01;

/** What a potter should know of a firing with a hot side. */
export const hotSideWarnings = (hot: HotSide | undefined, history: ClayHistory): Warning[] => {
  if (!hot || hot.difference_C === 0) return [];
  const peak_C = celsiusFromKelvin(history.temperature_K.reduce((a, b) => Math.max(a, b), 0));
  const [cool, warm] = [-0.5, 0.5].map((s) => Math.round(peak_C + s * hot.difference_C));
  return [
    {
      kind: 'hot-side',
      text:
        `The hot side peaks at ${warm} °C, the other at ${cool} °C, and each softens by its own heat. ` +
        'Not in it: the hot side also shrinks sooner, and where the cool side ends short of maturity, further.',
    },
  ];
};
