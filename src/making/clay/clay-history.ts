/**
 * What the heat does to a clay, free of load: pores closing, shrinking, softening, and the clocks by which a
 * wall creeps. Runs under a dragging finger, so it is one pass: at each step the temperature is linear in time,
 * and both integrals (pores first, creep with them) use the three-point Gauss collocation rule, whose nodes
 * inside the step serve both. Steps hold the exponents of both Arrhenius laws to SMALL_EXPONENT; against a
 * reference on 64 times finer steps the clocks are right to 1e-8 (test beside this file).
 */
import { stretchAt } from '../../kernel/numerics/between.ts';
import { GAS_CONSTANT_J_molK } from '../../units.ts';
import type { Clay } from './clay.ts';
import {
  closingRate_per_s,
  linearScale,
  shearFactor,
  startPorosity,
  uniaxialFactor,
  viscousPoisson,
} from './sintering.ts';
import type { TemperatureHistory } from './temperature-history.ts';
import { sagViscosity_Pa_s } from './viscosity.ts';

/** All arrays of one length; `temperature_K` is linear between the times, which include every corner of the heat. */
export interface ClayHistory {
  readonly time_s: Float64Array;
  readonly temperature_K: Float64Array;
  /** Pores left that the fire can close (see `startPorosity`), by volume. */
  readonly porosity: Float64Array;
  /** Length against bone dry. */
  readonly linearScale: Float64Array;
  /** Shear viscosity of the dense body. */
  readonly viscosity_Pa_s: Float64Array;
  /** Uniaxial viscosity of the porous body against that of the dense one. */
  readonly uniaxialFactor: Float64Array;
  /** Viscous Poisson ratio of the porous body. */
  readonly poisson: Float64Array;
  /** ∫ dt/(eta phi), 1/Pa: the time a wall creeps by, on its true shape. */
  readonly creepClock: Float64Array;
  /**
   * ∫ dt/(eta phi L²), 1/Pa, L = linearScale: the time a wall creeps by in bone-dry lengths X = x/L, with the
   * density it would have there, dry·(1 - loss on ignition). (Weight per volume grows as 1/L³, span shrinks as
   * L, so dX/dt = W(X)/(eta phi L²).)
   */
  readonly creepClockUnshrunk: Float64Array;
}

const SMALL_EXPONENT = 0.12;
const COLD_STEP_K = 60;
/** Colder than where both rates are this share of those at the peak, nothing happens that counts. */
const COLD_LOG_SHARE = 21; // ln(1e9)
/** Fewer pores than this change nothing any more. */
const POROSITY_THAT_COUNTS = 1e-6;

const S15 = Math.sqrt(15);
const NODE = [0.5 - S15 / 10, 0.5, 0.5 + S15 / 10] as const;
const WEIGHT = [5 / 18, 4 / 9, 5 / 18] as const;
/** Collocation weights up to each node (Butcher's Gauss method of order 6; Hairer, Nørsett, Wanner I, II.7). */
const UP_TO_NODE = [
  [5 / 36, 2 / 9 - S15 / 15, 5 / 36 - S15 / 30],
  [5 / 36 + S15 / 24, 2 / 9, 5 / 36 - S15 / 24],
  [5 / 36 + S15 / 30, 2 / 9 + S15 / 15, 5 / 36],
] as const;

interface State {
  time_s: number;
  temperature_K: number;
  porosity: number;
  creepClock: number;
  creepClockUnshrunk: number;
}

const rates = new Float64Array(3);

/** Moves the state on by dt at a steady heating rate. */
const advance = (clay: Clay, start: number, state: State, rate_K_s: number, dt_s: number): void => {
  for (let i = 0; i < 3; i++) {
    rates[i] = closingRate_per_s(clay, state.temperature_K + NODE[i]! * dt_s * rate_K_s);
  }
  let creep = 0;
  let creepUnshrunk = 0;
  for (let i = 0; i < 3; i++) {
    const a = UP_TO_NODE[i]!;
    const closing = dt_s * (a[0] * rates[0]! + a[1] * rates[1]! + a[2] * rates[2]!);
    const porosity = state.porosity * Math.exp(-closing);
    const T = state.temperature_K + NODE[i]! * dt_s * rate_K_s;
    const pace = WEIGHT[i]! / (sagViscosity_Pa_s(clay, T) * shearFactor(porosity));
    creep += pace;
    creepUnshrunk += pace / linearScale(start, porosity) ** 2;
  }
  const closing = dt_s * (WEIGHT[0] * rates[0]! + WEIGHT[1] * rates[1]! + WEIGHT[2] * rates[2]!);
  state.time_s += dt_s;
  state.temperature_K += dt_s * rate_K_s;
  state.porosity *= Math.exp(-closing);
  state.creepClock += dt_s * creep;
  state.creepClockUnshrunk += dt_s * creepUnshrunk;
};

interface Pace {
  readonly activation_J_mol: number;
  readonly cold_K: number;
  /** 1 as a rule; the test's reference takes it small. */
  readonly fineness: number;
}

const paceFor = (clay: Clay, heat: TemperatureHistory, fineness: number): Pace => {
  const most = 1000 * Math.max(clay.sintering.activation_kJ_mol, clay.sagViscosity.activation_kJ_mol);
  const least = 1000 * Math.min(clay.sintering.activation_kJ_mol, clay.sagViscosity.activation_kJ_mol);
  const peak_K = heat.temperature_K.reduce((a, b) => Math.max(a, b), 0);
  const cold_K = 1 / (1 / peak_K + (COLD_LOG_SHARE * GAS_CONSTANT_J_molK) / least);
  return { activation_J_mol: most, cold_K, fineness };
};

const stepFrom = (clay: Clay, pace: Pace, state: State, rate_K_s: number, stretch_s: number): number => {
  const T = state.temperature_K;
  const speed = Math.abs(rate_K_s);
  if (T < pace.cold_K) return pace.fineness * (speed > 0 ? COLD_STEP_K / speed : stretch_s);
  const exponent_K = (SMALL_EXPONENT * GAS_CONSTANT_J_molK * T * T) / pace.activation_J_mol;
  const byHeat = speed > 0 ? exponent_K / speed : stretch_s / 24;
  const byPores =
    state.porosity > POROSITY_THAT_COUNTS ? (2 * SMALL_EXPONENT) / closingRate_per_s(clay, T) : byHeat;
  return pace.fineness * Math.min(byHeat, byPores);
};

const walk = (
  clay: Clay,
  heat: TemperatureHistory,
  fineness: number,
  record: (state: State) => void,
): void => {
  const start = startPorosity(clay);
  const pace = paceFor(clay, heat, fineness);
  const state: State = {
    time_s: heat.time_s[0]!,
    temperature_K: heat.temperature_K[0]!,
    porosity: start,
    creepClock: 0,
    creepClockUnshrunk: 0,
  };
  record(state);
  for (let i = 1; i < heat.time_s.length; i++) {
    const end_s = heat.time_s[i]!;
    const stretch_s = end_s - state.time_s;
    if (stretch_s <= 0) continue;
    const rate_K_s = (heat.temperature_K[i]! - heat.temperature_K[i - 1]!) / stretch_s;
    while (state.time_s < end_s) {
      const left_s = end_s - state.time_s;
      const step_s = stepFrom(clay, pace, state, rate_K_s, stretch_s);
      const last = step_s >= left_s * (1 - 1e-9);
      advance(clay, start, state, rate_K_s, last ? left_s : step_s);
      if (last) {
        state.time_s = end_s;
        state.temperature_K = heat.temperature_K[i]!;
      }
      record(state);
    }
  }
};

/**
 * What this heat does to this clay. Pure and fast (well under 3 ms).
 * @param fineness step length against the usual; smaller is finer, only a reference needs it
 */
export const clayHistory = (clay: Clay, heat: TemperatureHistory, fineness = 1): ClayHistory => {
  const states: State[] = [];
  walk(clay, heat, fineness, (state) => states.push({ ...state }));
  const start = startPorosity(clay);
  const of = (value: (state: State) => number): Float64Array => Float64Array.from(states, value);
  return {
    time_s: of((s) => s.time_s),
    temperature_K: of((s) => s.temperature_K),
    porosity: of((s) => s.porosity),
    linearScale: of((s) => linearScale(start, s.porosity)),
    viscosity_Pa_s: of((s) => sagViscosity_Pa_s(clay, s.temperature_K)),
    uniaxialFactor: of((s) => uniaxialFactor(s.porosity)),
    poisson: of((s) => viscousPoisson(s.porosity)),
    creepClock: of((s) => s.creepClock),
    creepClockUnshrunk: of((s) => s.creepClockUnshrunk),
  };
};

export interface ClayMoment {
  readonly time_s: number;
  readonly temperature_K: number;
  readonly porosity: number;
  readonly linearScale: number;
}

/** The clay at any time of its history, to the same accuracy as at the recorded times. */
export const clayAt = (clay: Clay, history: ClayHistory, time_s: number): ClayMoment => {
  const { time_s: t, temperature_K: T } = history;
  const start = startPorosity(clay);
  const at_s = Math.min(Math.max(time_s, t[0]!), t.at(-1)!);
  const i = stretchAt(t, at_s);
  const rate_K_s = (T[i + 1]! - T[i]!) / (t[i + 1]! - t[i]!);
  const state: State = {
    time_s: t[i]!,
    temperature_K: T[i]!,
    porosity: history.porosity[i]!,
    creepClock: 0,
    creepClockUnshrunk: 0,
  };
  advance(clay, start, state, rate_K_s, at_s - t[i]!);
  return {
    time_s: at_s,
    temperature_K: state.temperature_K,
    porosity: state.porosity,
    linearScale: linearScale(start, state.porosity),
  };
};

/**
 * When a creep clock reads `clock` (1/Pa); the first such time, the ends when outside. Between recorded times the
 * clock is the cubic through its readings and its paces, which are all known there.
 */
export const timeAtClock = (
  history: ClayHistory,
  clock: number,
  which: 'creepClock' | 'creepClockUnshrunk' = 'creepClockUnshrunk',
): number => {
  const { time_s: t } = history;
  const c = history[which];
  const last = c.length - 1;
  if (clock <= 0) return t[0]!;
  if (clock >= c[last]!) return t[c.indexOf(c[last]!)]!;
  const i = stretchAt(c, clock);
  const whole = c[i + 1]! - c[i]!;
  const step_s = t[i + 1]! - t[i]!;
  const from = (step_s * paceAt(history, which, i)) / whole;
  const to = (step_s * paceAt(history, which, i + 1)) / whole;
  return t[i]! + step_s * whereOnStep((clock - c[i]!) / whole, from, to);
};

/** Where on a step (0 to 1) the share `y` of it is done, the paces at its ends being `from` and `to`. */
const whereOnStep = (y: number, from: number, to: number): number => {
  const growth = Math.log(to / from);
  let x = Math.abs(growth) < 1e-9 ? y : Math.log1p(y * Math.expm1(growth)) / growth;
  // The long cold steps, whose pace changes a thousandfold and whose share is nothing, keep this exponential.
  if (Math.abs(growth) > 1) return x;
  const square = 3 - 2 * from - to;
  const cube = from + to - 2;
  for (let k = 0; k < 3; k++) {
    const off = x * (from + x * (square + x * cube)) - y;
    x -= off / (from + x * (2 * square + 3 * cube * x));
  }
  return Math.min(1, Math.max(0, x));
};

const paceAt = (history: ClayHistory, which: 'creepClock' | 'creepClockUnshrunk', i: number): number => {
  const pace = 1 / (history.viscosity_Pa_s[i]! * shearFactor(history.porosity[i]!));
  return which === 'creepClock' ? pace : pace / history.linearScale[i]! ** 2;
};
