import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { celsiusFromKelvin, kelvinFromCelsius } from '../../units.ts';
import { parseClay } from './clay.ts';
import { clayAt, clayHistory, timeAtClock } from './clay-history.ts';
import { startPorosity } from './sintering.ts';
import { temperatureAt } from './temperature-history.ts';

const clay = parseClay(JSON.parse(readFileSync('examples/studio-porcelain.clay.json', 'utf8')));

/** Corners in hours and °C. */
const heat = (...corners: readonly (readonly [number, number])[]) => ({
  time_s: Float64Array.from(corners, ([h]) => h * 3600),
  temperature_K: Float64Array.from(corners, ([, t]) => kelvinFromCelsius(t)),
});
const ramp = (rate_C_h: number, to_C: number) => heat([0, 20], [(to_C - 20) / rate_C_h, to_C]);
const last = (values: Float64Array): number => values.at(-1)!;

const HEATS = {
  'up, hold, down': heat([0, 20], [6, 600], [11.5, 1285], [11.75, 1285], [20, 60]),
  'a fast one': heat([0, 20], [3, 1300], [3.1, 1300], [5, 60]),
  'a long low hold': heat([0, 20], [10, 1120], [22, 1120], [23, 1150], [30, 60]),
  'up and down again, left porous': heat([0, 20], [9, 1100], [10, 1000], [13, 1180], [20, 20]),
};

describe.each(Object.entries(HEATS))('%s', (_, given) => {
  const usual = clayHistory(clay, given);
  const fine = clayHistory(clay, given, 1 / 64);

  // 64 times finer with a rule of order 6: the reference is exact to rounding; what is
  // left is the cold part, which takes long steps (up to 1e-9 of the whole), far inside the 1e-6 asked for
  test('the quadrature is right to 1e-8', () => {
    for (const key of ['creepClock', 'creepClockUnshrunk', 'porosity', 'linearScale'] as const) {
      expect(Math.abs(last(usual[key]) / last(fine[key]) - 1)).toBeLessThan(1e-8);
    }
  });

  test('a plain trapezium sum over the fine history gives the same clocks', () => {
    let plain = 0;
    let unshrunk = 0;
    const pace = (i: number): number => 1 / (fine.viscosity_Pa_s[i]! * (1 - fine.porosity[i]!) ** 2);
    for (let i = 1; i < fine.time_s.length; i++) {
      const dt = fine.time_s[i]! - fine.time_s[i - 1]!;
      plain += (dt * (pace(i) + pace(i - 1))) / 2;
      unshrunk +=
        (dt * (pace(i) / fine.linearScale[i]! ** 2 + pace(i - 1) / fine.linearScale[i - 1]! ** 2)) / 2;
    }
    expect(Math.abs(plain / last(usual.creepClock) - 1)).toBeLessThan(1e-6);
    expect(Math.abs(unshrunk / last(usual.creepClockUnshrunk) - 1)).toBeLessThan(1e-6);
  });

  test('the clock turns back into time to 0.1 s', () => {
    for (let percent = 1; percent < 100; percent += 2) {
      const clock = (last(fine.creepClockUnshrunk) * percent) / 100;
      expect(Math.abs(timeAtClock(usual, clock) - timeAtClock(fine, clock))).toBeLessThan(0.1);
    }
  });

  test('a few hundred points, every corner among them, clocks never back', () => {
    expect(usual.time_s.length).toBeLessThan(900);
    for (const corner of given.time_s) expect(usual.time_s).toContain(corner);
    for (let i = 1; i < usual.time_s.length; i++) {
      expect(usual.time_s[i]!).toBeGreaterThan(usual.time_s[i - 1]!);
      expect(usual.creepClock[i]!).toBeGreaterThanOrEqual(usual.creepClock[i - 1]!);
    }
  });

  test('between the points it is as right as on them', () => {
    for (const share of [0.31, 0.42, 0.55, 0.63, 0.871]) {
      const time = share * last(given.time_s);
      const here = clayAt(clay, usual, time);
      const there = clayAt(clay, fine, time);
      expect(here.temperature_K).toBeCloseTo(temperatureAt(given, time), 9);
      expect(Math.abs(here.porosity / there.porosity - 1)).toBeLessThan(1e-8);
    }
  });
});

test('held at one temperature the pores close exponentially: theta0 exp(-k t)', () => {
  const steady = heat([0, 1200], [1, 1200]);
  expect(last(clayHistory(clay, steady).porosity) / startPorosity(clay)).toBeCloseTo(Math.exp(-3.1), 10);
});

test('a clay that neither sinters nor shrinks: the clock is time over viscosity', () => {
  const stiff = {
    ...clay,
    firingShrinkage: { ...clay.firingShrinkage, value_percent: 0 },
  };
  const history = clayHistory(stiff, heat([0, 1285], [2, 1285]));
  expect(last(history.creepClock) * 3e9).toBeCloseTo(7200, 6);
  expect(last(history.creepClockUnshrunk) * 3e9).toBeCloseTo(7200, 6);
});

// Landmarks of kaolin-quartz-feldspar bodies, from memory: starts 1050-1100, fastest 1180-1230, ends by about 1260 °C.
test.each([100, 150])(
  'at %i °C/h the demo clay shrinks when porcelain does (landmarks from memory)',
  (rate) => {
    const { temperature_K, linearScale, time_s } = clayHistory(clay, ramp(rate, 1320), 1 / 8);
    const done = linearScale.map((l) => (1 - l) / 0.091);
    const celsiusWhere = (i: number): number => celsiusFromKelvin(temperature_K[i]!);
    const pace = Array.from(
      linearScale.subarray(1),
      (l, i) => (linearScale[i]! - l) / (time_s[i + 1]! - time_s[i]!),
    );
    const start = celsiusWhere(done.findIndex((d) => d > 0.02));
    const fastest = celsiusWhere(pace.indexOf(Math.max(...pace)) + 1);
    const end = celsiusWhere(done.findIndex((d) => d > 0.98));
    expect(start).toBeGreaterThan(1050);
    expect(start).toBeLessThan(1100);
    expect(fastest).toBeGreaterThan(1180);
    expect(fastest).toBeLessThan(1230);
    expect(end).toBeGreaterThan(1235);
    expect(end).toBeLessThan(1265);
  },
);
