import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { AfterfireError } from '../../error.ts';
import { GRAVITY_m_s2 } from '../../units.ts';
import { parseClay } from '../clay/clay.ts';
import { clayHistory } from '../clay/clay-history.ts';
import { parseForm } from '../form/form.ts';
import { parseSchedule, temperatureHistory } from '../kiln/schedule.ts';
import { fire } from './fire.ts';
import type { Firing, FiringInput } from './firing.ts';
import { Setting } from './setting.ts';
import { softDensity } from './soften.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));

const finish = (input: FiringInput): Firing => {
  const run = fire(input);
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};

const tube = (radius_mm: number, height_mm: number, wall_mm: number, extra: object = {}) =>
  parseForm({
    afterfire: 'form/1',
    name: 'test tube',
    sizes: 'thrown',
    line: [
      { radius_mm, height_mm: 0 },
      { radius_mm, height_mm },
    ],
    wall: [{ along: 0, thickness_mm: wall_mm }],
    foot: { kind: 'none' },
    alterations: [],
    ...extra,
  });

const setting = (attitude: Setting['attitude'], more: object = {}): Setting =>
  Setting.parse({ attitude, ...more });

test('an upright tube settles through a whole firing as rho g H²/(6 eta) says, within 2 %', () => {
  // check-values/physics.md 1.1, integrated on the creep clock; in bone-dry lengths, shrunk at the end.
  const f = finish({
    form: tube(45, 200, 3),
    clay,
    schedule,
    setting: setting('upright'),
    triangles: 1200,
    care: 'full',
  });
  const h = clayHistory(clay, temperatureHistory(schedule));
  const L = h.linearScale[h.linearScale.length - 1];
  const clock = h.creepClockUnshrunk[h.creepClockUnshrunk.length - 1];
  const H = f.dryMeasures.height_m;
  const exact = (L * softDensity(clay) * GRAVITY_m_s2 * H * H * clock) / 6;
  // While the body is porous its Poisson ratio is below ½ and uniaxial loads meet 2 eta(1 + nu): a little faster.
  expect(f.estimates.topDrop_m.value / exact).toBeGreaterThan(0.98);
  expect(f.estimates.topDrop_m.value / exact).toBeLessThan(1.02);
});

test('a piece that barely creeps comes out as the shrinkages multiply (ASTM C326)', () => {
  const form = parseForm(example('small-plain-cylinder.form.json'));
  const f = finish({ form, clay, schedule, setting: setting('upright'), triangles: 800, care: 'full' });
  const fired = 1 - clay.firingShrinkage.value_percent / 100;
  const dried = 1 - clay.dryingShrinkage.value_percent / 100;
  expect(f.frames[f.frames.length - 1].linearScale).toBeCloseTo(fired, 3);
  const height = f.firedMeasures.height_m + f.estimates.topDrop_m.value;
  expect(Math.abs(height / (f.wetMeasures.height_m * dried * fired) - 1)).toBeLessThan(5e-4);
  expect(f.firedMeasures.weight_kg / f.dryMeasures.weight_kg).toBeCloseTo(
    1 - clay.lossOnIgnition.value_percent / 100,
    3,
  );
});

test('a piece that does not creep stands where it was set: no foot drops before the clay is soft', () => {
  // Exact: nothing flows, so nothing but shrinking may move it. A ring foot far thicker than its neighbours is the hard case.
  const stiff = parseClay({ ...clay, sagViscosity: { ...clay.sagViscosity, value_Pa_s: 1e16 } });
  for (const name of ['tall-fluted-vase', 'wide-shallow-bowl']) {
    const form = parseForm(example(`${name}.form.json`));
    expect(form.foot.kind).toBe('ring');
    const f = finish({
      form,
      clay: stiff,
      schedule,
      setting: setting('upright'),
      triangles: 1000,
      care: 'full',
    });
    expect(Math.max(...f.sag_m)).toBeLessThan(2e-6);
    // All of the flat of the ring: an annulus from the foot's edge inwards, as turned (flutes end above it).
    const { foot, line } = form as { foot: { width_mm: number }; line: { radius_mm: number }[] };
    const dry = 1 - clay.dryingShrinkage.value_percent / 100;
    const fired_m = (dry * f.frames[f.frames.length - 1].linearScale) / 1000;
    const outer_m = fired_m * line[0].radius_mm;
    const inner_m = outer_m - fired_m * foot.width_mm;
    expect(f.contactArea_m2 / (Math.PI * (outer_m ** 2 - inner_m ** 2))).toBeCloseTo(1, 1);
  }
});

test('sizes drawn as fired come out as drawn, but for the sag', () => {
  const form = { ...tube(40, 120, 3), sizes: 'fired' as const };
  const f = finish({ form, clay, schedule, setting: setting('upright'), triangles: 800, care: 'quick' });
  expect(Math.abs(f.firedMeasures.height_m + f.estimates.topDrop_m.value - 0.12)).toBeLessThan(2e-4);
});

test('a thin piece on its side at cone 10 sags down to the shelf where the same piece upright keeps its shape', () => {
  // Common practice, no source.
  const form = tube(75, 150, 2);
  const input = { form, clay, schedule, triangles: 1000, care: 'full' as const };
  const upright = finish({ ...input, setting: setting('upright') });
  const side = finish({ ...input, setting: setting('on its side') });
  expect(upright.verdict.kind).toBe('stands');
  expect(upright.firedMeasures.height_m / upright.dryMeasures.height_m).toBeGreaterThan(0.89);
  expect(side.verdict.kind).not.toBe('stands');
  const top = (p: Float64Array) => p.reduce((a, x, i) => (i % 3 === 2 ? Math.max(a, x) : a), 0);
  const last = side.frames[side.frames.length - 1];
  expect(top(last.positions) / (last.linearScale * top(side.dry.positions))).toBeLessThan(0.5);
});

test('no wall is lost: the volume of clay is kept to 0.1 % over a whole firing but for shrinkage', () => {
  // A clay that closes no pores: Poisson ratio ½ throughout, walls keep their volume exactly.
  const dense = { ...clay, firingShrinkage: { ...clay.firingShrinkage, value_percent: 0 } };
  const f = finish({
    form: tube(70, 120, 2.5),
    clay: dense,
    schedule,
    setting: setting('on its side'),
    triangles: 1000,
    care: 'full',
  });
  const last = f.frames[f.frames.length - 1];
  const volume = (p: Float64Array, h: Float64Array): number => {
    let v = 0;
    for (let t = 0; t < f.dry.triangles.length; t += 3) {
      const [a, b, c] = [0, 1, 2].map((k) => f.dry.triangles[t + k]);
      const u = [0, 1, 2].map((k) => p[3 * b + k] - p[3 * a + k]);
      const w = [0, 1, 2].map((k) => p[3 * c + k] - p[3 * a + k]);
      const area =
        0.5 * Math.hypot(u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]);
      v += (area * (h[a] + h[b] + h[c])) / 3;
    }
    return v;
  };
  expect(f.estimates.greatestSag_m.value).toBeGreaterThan(0.01); // it really moved
  expect(
    Math.abs(volume(last.positions, last.thickness_m) / volume(f.dry.positions, f.dry.thickness_m) - 1),
  ).toBeLessThan(1e-3);
});

test('fired to maturity the body has no open pores the fire could close', () => {
  // Common practice, no source.
  const f = finish({
    form: tube(40, 100, 3),
    clay,
    schedule,
    setting: setting('upright'),
    triangles: 600,
    care: 'quick',
  });
  expect(f.frames[0].porosity).toBeGreaterThan(0.2);
  expect(f.frames[f.frames.length - 1].porosity).toBeLessThan(0.005);
});

test('nothing passes the shelf: no skin lies deeper than 0.1 mm in any picture', () => {
  for (const attitude of ['upright', 'rim down', 'on its side'] as const) {
    const form = parseForm(example('lobed-tube.form.json'));
    const f = finish({ form, clay, schedule, setting: setting(attitude), triangles: 1000, care: 'full' });
    for (const frame of f.frames) {
      let low = 1;
      for (let i = 2; i < frame.positions.length; i += 3) low = Math.min(low, frame.positions[i]);
      expect(low).toBeGreaterThan(-1e-4);
    }
  }
});

test('the guess is said wherever the numbers go', () => {
  const f = finish({
    form: tube(40, 100, 3),
    clay,
    schedule,
    setting: setting('upright'),
    triangles: 600,
    care: 'full',
  });
  expect(f.provenance.join(' ')).toContain('guess until a test bar');
  expect(f.estimates.height_m.why).toContain('a guess');
  for (const e of Object.values(f.estimates)) {
    expect(e.low).toBeLessThanOrEqual(e.value);
    expect(e.high).toBeGreaterThanOrEqual(e.value);
  }
});

const refusal = (input: FiringInput): AfterfireError => {
  try {
    finish(input);
  } catch (e) {
    if (e instanceof AfterfireError) return e;
    throw e;
  }
  throw new Error('nothing was refused');
};

test('heat that melts nothing, heat that melts everything: refused with the field, the value and what is right', () => {
  const at = (to_C: number) =>
    parseSchedule({
      afterfire: 'schedule/1',
      name: 'test',
      segments: [
        { kind: 'ramp', rate_C_h: 100, to_C },
        { kind: 'ramp', rate_C_h: 100, to_C: 50 },
      ],
    });
  const input = {
    form: tube(40, 100, 3),
    clay,
    setting: setting('upright'),
    triangles: 600,
    care: 'quick' as const,
  };
  const cold = refusal({ ...input, schedule: at(850) });
  expect(cold.code).toBe('bad-input');
  expect(cold.message).toContain('850 °C');
  expect(cold.message).toMatch(/never melts/);
  const hot = refusal({ ...input, schedule: at(1400) });
  expect(hot.message).toContain('1400 °C');
  expect(hot.faults[0].expected).toMatch(/about 1\d\d\d °C/);
});

test('a piece that cannot stand as asked is refused before the fire', () => {
  // A tall cone on its tip.
  const form = parseForm({
    afterfire: 'form/1',
    name: 'spike',
    sizes: 'thrown',
    line: [
      { radius_mm: 6, height_mm: 0 },
      { radius_mm: 60, height_mm: 160 },
    ],
    wall: [{ along: 0, thickness_mm: 3 }],
    foot: { kind: 'disc', thickness_mm: 4 },
    alterations: [{ kind: 'push', angle_deg: 0, along: 0.9, reach_mm: 60, depth_mm: 25 }],
  });
  const e = refusal({ form, clay, schedule, setting: setting('upright'), triangles: 800, care: 'quick' });
  expect(e.faults[0].field).toBe('setting.attitude');
});
