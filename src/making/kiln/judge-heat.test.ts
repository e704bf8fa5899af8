import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { kelvinFromCelsius } from '../../units.ts';
import { parseClay } from '../clay/clay.ts';
import { judgeHeat } from './judge-heat.ts';
import { parseSchedule, temperatureHistory } from './schedule.ts';

const read = (name: string): unknown => JSON.parse(readFileSync(`examples/${name}`, 'utf8'));
const clay = parseClay(read('studio-porcelain.clay.json'));
const demo = temperatureHistory(parseSchedule(read('cone-10-slow.schedule.json')));

/** 100 °C/h up, a quarter of an hour, 50 °C/h down. */
const upTo = (peak_C: number) => {
  const up_h = (peak_C - 20) / 100;
  return {
    time_s: Float64Array.from([0, up_h, up_h + 0.25, up_h + 0.25 + (peak_C - 20) / 50], (h) => h * 3600),
    temperature_K: Float64Array.from([20, peak_C, peak_C, 20], kelvinFromCelsius),
  };
};
const kinds = (peak_C: number): string[] => judgeHeat(upTo(peak_C), clay).map(({ kind }) => kind);

test('the demo schedule is right for the demo clay', () => expect(judgeHeat(demo, clay)).toEqual([]));

test('too cold, right, too hot', () => {
  expect(kinds(900)).toEqual(['stays-chalk']);
  expect(kinds(1150)).toEqual(['underfired']);
  expect(kinds(1285)).toEqual([]);
  expect(kinds(1340)).toEqual(['overfired']);
  expect(kinds(1450)).toEqual(['everything-flows']);
});

test('a remark names the field, the value and what would be right', () => {
  const [chalk] = judgeHeat(upTo(900), clay);
  expect(chalk).toMatchObject({ severity: 'fault', value: '900 °C' });
  expect(chalk!.expected).toMatch(/^about 12[0-9]{2} °C/);
  const [flows] = judgeHeat(upTo(1450), clay);
  expect(flows).toMatchObject({ severity: 'fault', value: '1450 °C' });
});

test('what is called right is right: fired there, the remark is gone', () => {
  for (const peak_C of [900, 1150, 1340, 1450]) {
    const right_C = Number(/about (\d+) °C/.exec(judgeHeat(upTo(peak_C), clay)[0]!.expected)![1]);
    expect(kinds(right_C + (peak_C < 1200 ? 10 : -10))).toEqual([]);
  }
});

// Cooling no faster than 50 °C/h through the quartz inversion at 573 °C (attributed to Fortuna, Sanitaryware, 2000)
test('fast through 573 °C in cooling is remarked on, in heating not', () => {
  const fast = { ...demo, time_s: Float64Array.from(demo.time_s) };
  fast.time_s[9]! -= 3600;
  fast.time_s[10]! -= 3600;
  const [remark] = judgeHeat(fast, clay);
  expect(remark).toMatchObject({ kind: 'fast-through-quartz', value: '100 °C/h' });
  expect(remark!.field).toContain('segments[8]');
});

test('a schedule without its cooling is remarked on', () => {
  const cut = { time_s: demo.time_s.slice(0, 7), temperature_K: demo.temperature_K.slice(0, 7) };
  expect(judgeHeat(cut, clay).map(({ kind }) => kind)).toEqual(['ends-hot']);
});
