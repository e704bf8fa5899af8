import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { dice } from '../../../test/dice.ts';
import { forgeHere } from '../../cli/forge.ts';
import { normalQuantile } from '../../kernel/numerics/normal.ts';
import { wasmEngine } from '../../kernel/numerics/wasm-engine.ts';
import { parseClay } from '../clay/clay.ts';
import { clayHistory } from '../clay/clay-history.ts';
import { Setting } from '../firing/setting.ts';
import { parseForm } from '../form/form.ts';
import { parseSchedule, temperatureHistory } from '../kiln/schedule.ts';
import { hotSideFrom, leanPerDegree } from './learned-hot-side.ts';
import { pieceFilm } from './piece-film.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));
const history = clayHistory(clay, temperatureHistory(schedule));
const forge = forgeHere();
const engine = forge && wasmEngine(forge);
const finish = <T>(run: Generator<unknown, T, void>): T => {
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};
const form = parseForm(example('tall-fluted-vase.form.json'));
const input = (more: object = {}) => ({
  form,
  clay,
  schedule,
  setting: Setting.parse({ attitude: 'upright', ...more }),
});

test('a vase fired with 25 °C more towards 60° on another mesh leans there; read back to a fifth and 10°', () => {
  const hot = input({ hotSide: { difference_C: 25, towards_deg: 60 } });
  const wish = { keys: ['lip mean', 'lean x', 'lean y'], from_deg: 0 };
  const { readings } = finish(pieceFilm(hot, history, 0.01, wish, engine, 2400));
  const [x, y] = ['lean x', 'lean y'].map((key) => readings[key].at(-1) as number);
  const perDegree_mm = finish(leanPerDegree(input(), history, 0, engine, 1200));
  const lean = { top_mm: Math.hypot(x, y), towards_deg: (Math.atan2(y, x) * 180) / Math.PI };
  // thousands of such pieces, so that neither the prior nor the making counts
  const seen = hotSideFrom(
    Array.from({ length: 4000 }, () => ({ ...lean, plusMinus_mm: 0.5, perDegree_mm })),
  );
  expect(Math.abs(seen.difference_C / 25 - 1)).toBeLessThan(0.2);
  expect(Math.abs(seen.towards_deg - 60)).toBeLessThan(10);
});

/** With one weight for all, closed form: precision = 1/15² + n k²/sd² (normal prior, normal errors). */
test('two pieces that agree: the answer of the normal law, and one that does not is weighted down', () => {
  const one = { top_mm: 4, towards_deg: 90, plusMinus_mm: 0.5, perDegree_mm: 0.2 };
  const sd = Math.hypot(0.5, 1) / 1.2815516;
  const precision = 1 / 15 ** 2 + (2 * 0.2 ** 2) / sd ** 2;
  const two = hotSideFrom([one, one]);
  expect(two.difference_C).toBeCloseTo((2 * 0.2 * 4) / sd ** 2 / precision, 4);
  expect(two.high_C - two.difference_C).toBeCloseTo(1.2815516 / Math.sqrt(precision), 4);
  expect(two.towards_deg).toBeCloseTo(90, 9);
  const bumped = { ...one, top_mm: 20, towards_deg: 270 };
  const three = hotSideFrom([one, one, one, bumped]);
  expect(three.towards_deg).toBeCloseTo(90, 6);
  expect(three.difference_C).toBeGreaterThan(0.7 * two.difference_C);
});

test('no lean, no hot side; nothing seen, nothing known', () => {
  const still = { top_mm: 0.2, towards_deg: 10, plusMinus_mm: 0.5, perDegree_mm: 0.2 };
  expect(hotSideFrom([still]).text).toContain('No hot side to be seen');
  expect(hotSideFrom([])).toMatchObject({ difference_C: 0, low_C: 0 });
});

test('evenly hot kilns: four in five are told so, and the stated interval holds the nought as often', () => {
  const between = dice(7);
  const normal = (): number => normalQuantile(between(1e-9, 1 - 1e-9));
  const sd = Math.hypot(0.5, 1) / 1.2815516;
  const N = 400;
  let claimed = 0;
  for (let i = 0; i < N; i++) {
    const seen = Array.from({ length: 12 }, () => {
      const [x, y] = [sd * normal(), sd * normal()];
      const towards_deg = (Math.atan2(y, x) * 180) / Math.PI;
      return { top_mm: Math.hypot(x, y), towards_deg, plusMinus_mm: 0.5, perDegree_mm: 0.2 };
    });
    if (hotSideFrom(seen).low_C > 0) claimed++;
  }
  // one in five, ± two in a hundred; without Rayleigh's law it was nearly every other one
  expect(claimed / N).toBeLessThan(0.27);
  expect(claimed / N).toBeGreaterThan(0.13);
});
