import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseClay } from '../clay/clay.ts';
import { parseForm } from '../form/form.ts';
import { parseSchedule } from '../kiln/schedule.ts';
import { setOnShelf } from './placed.ts';
import { Setting } from './setting.ts';

/** Plain geometry: a turn about the axis moves no node nearer to it, up or down. */
const example = (name: string): object =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8'));
const set = (more: object) =>
  setOnShelf(
    {
      form: parseForm({ ...example('tall-fluted-vase.form.json'), ...more }),
      clay: parseClay(example('studio-porcelain.clay.json')),
      schedule: parseSchedule(example('cone-10-slow.schedule.json')),
      setting: Setting.parse({ attitude: 'upright' }),
      triangles: 900,
      care: 'quick',
    },
    900,
  ).mesh;

test('the lip of a thrown piece turns against its foot by the angle given, the foot by nothing', () => {
  const [still, turned] = [set({}), set({ untwist_deg: 12 })];
  const angle = (p: Float64Array, n: number): number => Math.atan2(p[3 * n + 1], p[3 * n]);
  const by = (n: number): number => {
    const deg = ((angle(turned.positions, n) - angle(still.positions, n)) * 180) / Math.PI;
    return ((deg + 540) % 360) - 180;
  };
  for (const n of still.lipNodes) expect(by(n)).toBeCloseTo(12, 6);
  for (const n of still.footEdge) expect(by(n)).toBeCloseTo(0, 6);
  const away = (p: Float64Array, n: number): number => Math.hypot(p[3 * n], p[3 * n + 1]);
  for (let n = 0; n < still.along.length; n++) {
    expect(away(turned.positions, n)).toBeCloseTo(away(still.positions, n), 9);
    expect(Math.abs(turned.positions[3 * n + 2] - still.positions[3 * n + 2])).toBeLessThan(2e-5);
  }
});

test('without the field nothing turns, and what is no angle is refused', () => {
  expect(set({}).positions).toEqual(set({ untwist_deg: 0 }).positions);
  expect(() => set({ untwist_deg: 400 })).toThrow(/untwist_deg/);
});
