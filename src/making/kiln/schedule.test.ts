import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { AfterfireError } from '../../error.ts';
import { celsiusFromKelvin } from '../../units.ts';
import { temperatureAt } from '../clay/temperature-history.ts';
import { parseSchedule, Schedule, temperatureHistory } from './schedule.ts';

const withSegments = (...segments: readonly object[]) => ({
  afterfire: 'schedule/1',
  name: 'test',
  segments,
});
const complaints = (json: unknown): string => {
  try {
    parseSchedule(json);
  } catch (error) {
    if (error instanceof AfterfireError && error.code === 'bad-input') return error.message;
    throw error;
  }
  return '';
};
const ramp = { kind: 'ramp', rate_C_h: 100, to_C: 1220 };

test('ramps and holds become temperature against time, exactly', () => {
  const history = temperatureHistory(
    parseSchedule(
      withSegments(ramp, { kind: 'hold', minutes: 30 }, { kind: 'ramp', rate_C_h: 400, to_C: 20 }),
    ),
  );
  expect([...history.time_s]).toEqual([0, 12 * 3600, 12.5 * 3600, 15.5 * 3600]);
  expect(Array.from(history.temperature_K, celsiusFromKelvin)).toEqual([20, 1220, 1220, 20]);
  expect(celsiusFromKelvin(temperatureAt(history, 6 * 3600))).toBeCloseTo(620, 9);
  expect(celsiusFromKelvin(temperatureAt(history, 1e9))).toBeCloseTo(20, 9);
});

test('the same in °F: 180 °F/h is 100 °C/h and 2228 °F is 1220 °C', () => {
  const celsius = temperatureHistory(parseSchedule(withSegments(ramp)));
  const fahrenheit = temperatureHistory(
    parseSchedule(withSegments({ kind: 'ramp', rate_F_h: 180, to_F: 2228 })),
  );
  expect(fahrenheit.time_s[1]!).toBeCloseTo(celsius.time_s[1]!, 6);
  expect(fahrenheit.temperature_K[1]!).toBeCloseTo(celsius.temperature_K[1]!, 9);
});

// 3 h up by 900 °F is 300 °F/h: the cone maker's own worked example
test('900 °F in 3 h is 300 °F/h', () => {
  const json = withSegments({ kind: 'ramp', rate_F_h: 300, to_F: 68 + 900 });
  expect(temperatureHistory(parseSchedule(json)).time_s[1]!).toBeCloseTo(3 * 3600, 6);
});

test.each([
  [{ kind: 'ramp', rate: 100, to_C: 1000 }, /segments\[0\]\.rate: got 100; .*rate_C_h or rate_F_h/],
  [
    { kind: 'ramp', to_C: 1000 },
    /segments\[0\]\.rate_C_h: got neither; expected exactly one of rate_C_h and rate_F_h/,
  ],
  [
    { ...ramp, rate_F_h: 180 },
    /segments\[0\]\.rate_F_h: got rate_C_h 100 and rate_F_h 180; expected exactly one/,
  ],
  [{ ...ramp, to_F: 2228 }, /segments\[0\]\.to_F: .*exactly one of to_C and to_F/],
  [{ ...ramp, rate_C_h: 0 }, /segments\[0\]\.rate_C_h: got 0; expected a number above 0/],
  [{ ...ramp, rate_C_h: -100 }, /segments\[0\]\.rate_C_h: got -100; expected a number above 0/],
  [{ ...ramp, rate_C_h: Number.NaN }, /segments\[0\]\.rate_C_h: got NaN; expected a number/],
  [{ ...ramp, to_C: 2300 }, /segments\[0\]\.to_C: got 2300; expected at most 1400 °C .*did you mean to_F/],
  [
    { kind: 'ramp', rate_F_h: 180, to_F: 2700 },
    /segments\[0\]\.to_F: got 2700; expected at most 1400 °C \(2552 °F\)/,
  ],
  [{ ...ramp, to_C: 20 }, /segments\[0\]\.to_C: got 20; .*to stay, use a hold/],
  [{ ...ramp, to_C: -273 }, /segments\[0\]\.to_C: got -273; expected at least -30 °C/],
  [{ kind: 'hold', minutes: -5 }, /segments\[0\]\.minutes: got -5; expected a number above 0/],
  [{ kind: 'hold', hours: 1 }, /segments\[0\]\.hours/],
  [{ kind: 'soak', minutes: 5 }, /segments\[0\]\.kind: got "soak"/],
])('%j says what is wrong', (segment, message) => {
  expect(complaints(withSegments(segment))).toMatch(message);
});

test('the segment that is wrong is the one named', () => {
  expect(complaints(withSegments(ramp, { kind: 'hold', minutes: 10 }, { ...ramp, to_C: 1500 }))).toMatch(
    /^schedule\.segments\[2\]\.to_C: got 1500/,
  );
  expect(complaints(withSegments(ramp, ramp))).toMatch(
    /^schedule\.segments\[1\]\.to_C: got 1220; .*use a hold/,
  );
});

test('the published schema is the one the program reads by', () => {
  const committed = JSON.parse(readFileSync('docs/schema/schedule.schema.json', 'utf8'));
  expect(committed).toEqual(JSON.parse(JSON.stringify(z.toJSONSchema(Schedule, { io: 'input' }))));
});
