import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { AfterfireError } from '../../../error.ts';
import { sheetMass } from '../../../kernel/mesh/sheet-mass.ts';
import { parseClay } from '../../clay/clay.ts';
import { parseForm } from '../../form/form.ts';
import { parseSchedule } from '../../kiln/schedule.ts';
import { Setting } from '../setting.ts';
import { aim, asDrawn } from './aim.ts';
import type { Aim, AimInput } from './aim-contract.ts';
import { type LessHeat, lessHeat } from './less-heat.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));

const finish = (input: Omit<AimInput, 'clay' | 'schedule' | 'care'> & Partial<AimInput>): Aim => {
  const run = aim({ clay, schedule, care: 'full', ...input });
  let last = 0;
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) return r.value;
    // A bar that runs back is worse than none.
    expect(r.value.fraction).toBeGreaterThanOrEqual(last);
    last = r.value.fraction;
  }
};
const form = (name: string) => parseForm(example(`${name}.form.json`));
const set = (attitude: Setting['attitude'], more: object = {}) => Setting.parse({ attitude, ...more });
const top = (p: Float64Array): number => p.reduce((a, x, i) => (i % 3 === 2 ? Math.max(a, x) : a), 0);
const refused = (input: Parameters<typeof finish>[0]): string => {
  try {
    finish(input);
  } catch (e) {
    if (e instanceof AfterfireError) return e.message;
    throw e;
  }
  return 'nothing refused';
};

const cup = (line: readonly (readonly [number, number])[], wall_mm: number, more: object = {}) =>
  parseForm({
    afterfire: 'form/1',
    name: 'test cup',
    sizes: 'fired',
    line: line.map(([radius_mm, height_mm]) => ({ radius_mm, height_mm })),
    wall: [{ along: 0, thickness_mm: wall_mm }],
    foot: { kind: 'disc', thickness_mm: wall_mm },
    alterations: [],
    ...more,
  });

test('a vase upright: reached to 0.1 mm, its green taller than shrinkage alone by what it sags', () => {
  const a = finish({ form: form('tall-fluted-vase'), setting: set('upright'), triangles: 700 });
  expect(a.reached).toBe(true);
  expect(a.max_m).toBeLessThan(1e-4);
  expect(a.passes.length).toBeLessThanOrEqual(4);
  expect(Math.abs(top(a.fired.positions) - top(a.wanted.positions))).toBeLessThan(1e-4);
  // Shrinkage undone and nothing else would leave it too short.
  const taller = a.firedScale * top(a.green.positions) - top(a.wanted.positions);
  expect(taller).toBeGreaterThan(2e-4);
  // The clay is the same before and after: volume times L³ (ASTM C326: linear shrinkage, the same in every direction).
  const [before, after] = [a.green, a.wanted].map((w) => sheetMass(w).volume_m3);
  expect(Math.abs((before * a.firedScale ** 3) / after - 1)).toBeLessThan(2e-3);
});

test('a bowl rim down with soft clay on one hot side: reached to 0.1 mm', () => {
  const a = finish({
    form: form('wide-shallow-bowl'),
    setting: set('rim down', { hotSide: { difference_C: 20 } }),
    triangles: 700,
  });
  expect(a.reached).toBe(true);
  expect(a.max_m).toBeLessThan(1e-4);
});

test('a tube on its side: reached to 0.3 mm, and led back to the drawing node by node', () => {
  const a = finish({ form: form('small-plain-cylinder'), setting: set('on its side'), triangles: 700 });
  expect(a.reached).toBe(true);
  expect(a.max_m).toBeLessThan(3e-4);
  // Higher than wide before the fire, by some millimetres.
  expect(a.firedScale * top(a.green.positions) - top(a.wanted.positions)).toBeGreaterThan(2e-3);
  const drawn = asDrawn(a, a.wanted.positions, 1);
  for (let i = 0; i < drawn.length; i++) expect(Math.abs(drawn[i] - a.mesh.positions[i])).toBeLessThan(1e-12);
  expect(a.warnings.map((w) => w.kind)).toContain('wedged');
});

test('sizes as fired are what is wanted; sizes as thrown are wanted as they shrink (ASTM C326)', () => {
  const line = [
    [30, 0],
    [35, 80],
  ] as const;
  const heights = (['fired', 'thrown'] as const).map((sizes) => {
    const f = { ...cup(line, 4), sizes };
    const a = finish({ form: f, setting: set('upright'), triangles: 300, care: 'quick' });
    return top(a.wanted.positions);
  });
  // The middle of a flaring wall ends half a wall's sine above its outer edge.
  expect(Math.abs(heights[0] - (0.08 + 0.002 * Math.sin(Math.atan(5 / 80))))).toBeLessThan(1e-6);
  const shrinks =
    (1 - clay.dryingShrinkage.value_percent / 100) * (1 - clay.firingShrinkage.value_percent / 100);
  expect(heights[1] / heights[0]).toBeCloseTo(shrinks, 6);
});

test('a tolerance below what steps and contact leave: not reached, after four passes and no more, with the nearest found', () => {
  const a = finish({
    form: form('tall-fluted-vase'),
    setting: set('upright'),
    triangles: 300,
    tolerance_m: 1e-10,
  });
  expect(a.reached).toBe(false);
  expect(a.verdict.kind).toBe('not-reached');
  expect(a.passes.length).toBe(4);
  expect(a.max_m).toBe(Math.min(...a.passes.map((p) => p.max_m)));
});

test('a wanted form that cannot stand as set is refused, with the ways in which it would', () => {
  // A tall cone on its tip, pushed over.
  const spike = cup(
    [
      [6, 0],
      [60, 160],
    ],
    3,
    { alterations: [{ kind: 'push', angle_deg: 0, along: 0.9, reach_mm: 60, depth_mm: 25 }] },
  );
  const said = refused({ form: spike, setting: set('upright'), triangles: 600 });
  expect(said).toContain('setting.attitude');
  expect(said).toContain('rim down or on its side');
});

test('props and leaning are refused in words', () => {
  const input = { form: form('small-plain-cylinder'), triangles: 300 };
  const prop = (example('on-two-saddles.setting.json') as { props: unknown[] }).props;
  expect(refused({ ...input, setting: set('on its side', { props: prop }) })).toContain('bare shelf only');
  expect(refused({ ...input, setting: set('leaning') })).toContain('leans');
});

const softer = (times: number) =>
  parseClay({
    ...clay,
    sagViscosity: { ...clay.sagViscosity, value_Pa_s: clay.sagViscosity.value_Pa_s / times },
  });
const dish = (radius_mm: number) =>
  cup(
    [
      [30, 0],
      [radius_mm, 16],
    ],
    2,
    { foot: { kind: 'ring', thickness_mm: 2, width_mm: 6, recess_mm: 3 } },
  );

test('a great thin dish of a clay far too soft: no green piece leads there', () => {
  const a = finish({
    form: dish(250),
    setting: set('upright'),
    triangles: 400,
    clay: softer(8),
    care: 'quick',
  });
  expect(a.reached).toBe(false);
  expect(a.verdict.kind).toBe('falls');
  expect(a.verdict.text).toContain('it would have to fall into it');
});

test('a thin dish of soft clay: with how much less heat it works is found, and with that it does', () => {
  const input = { form: dish(110), setting: set('upright'), triangles: 300 };
  const run = lessHeat({ ...input, clay: softer(6), schedule, care: 'full' });
  let r = run.next();
  while (!r.done) r = run.next();
  const less = r.value as LessHeat;
  expect(less.share).toBeGreaterThan(0.04);
  expect(less.share).toBeLessThan(1);
  // Viscosity and time come together only (reduced time): so much less heat-work is a clay so much stiffer.
  const b = finish({ ...input, clay: softer(6 * less.share) });
  expect(b.reached).toBe(true);
});
