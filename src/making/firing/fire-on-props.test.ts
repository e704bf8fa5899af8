import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { AfterfireError } from '../../error.ts';
import { parseClay } from '../clay/clay.ts';
import { parseForm } from '../form/form.ts';
import { parseSchedule } from '../kiln/schedule.ts';
import { parseSetting } from '../setting-file.ts';
import { fire } from './fire.ts';
import type { Firing, FiringInput } from './firing.ts';
import { distanceInDryLengths } from './props/obstacles.ts';
import { Setting } from './setting.ts';
import { bodyOf, gapOf } from './settle/body.ts';
import { propTrouble } from './standing-trouble.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));

const finish = (input: Omit<FiringInput, 'clay' | 'schedule'>): Firing => {
  const run = fire({ ...input, clay, schedule });
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};

const tube = parseForm({
  afterfire: 'form/1',
  name: 'test tube',
  sizes: 'thrown',
  line: [
    { radius_mm: 45, height_mm: 0 },
    { radius_mm: 45, height_mm: 200 },
  ],
  wall: [{ along: 0, thickness_mm: 4 }],
  foot: { kind: 'none' },
  alterations: [],
});

/** Deepest any node lies in a prop in any picture, m at the size of that picture. */
const deepest = (f: Firing): number => {
  let least = 0;
  for (const { positions, thickness_m, linearScale: L } of f.frames)
    for (const prop of f.input.setting.props) {
      const body = bodyOf({
        positions: positions.map((x) => x / L),
        thickness_m: thickness_m.map((h) => h / L),
        triangles: f.dry.triangles,
      });
      const distance = distanceInDryLengths(prop, f.propsAt_m ?? [0, 0], L);
      for (let n = 0; n < body.nodes; n++) least = Math.min(least, L * gapOf(body, distance, n));
    }
  return -least;
};

test('long saddles of its own shape that shrink along hold a lying tube rounder than a bare shelf does', () => {
  // Common practice, no source. Hollow and dry tube both of 42 mm (45 thrown, drying 6 %).
  const saddle = { kind: 'saddle', length_mm: 80, hollowRadius_mm: 42.5, height_mm: 20, shrinks: true };
  const input = { form: tube, triangles: 800, care: 'quick' as const };
  const held = finish({
    ...input,
    setting: Setting.parse({
      attitude: 'on its side',
      props: [
        { ...saddle, x_mm: -48 },
        { ...saddle, x_mm: 48 },
      ],
    }),
  });
  const bare = finish({ ...input, setting: Setting.parse({ attitude: 'on its side' }) });
  expect(held.estimates.topDrop_m.value).toBeLessThan(0.8 * bare.estimates.topDrop_m.value);
  expect(held.propAreas_m2?.length).toBe(2);
  for (const area of held.propAreas_m2 ?? []) expect(area).toBeGreaterThan(1e-4);
  expect(held.restsOn).toContain(2);
  expect(held.restsOn).toContain(3);
  expect(held.restsOn).not.toContain(1);
  expect(deepest(held)).toBeLessThan(1e-4);
});

test('a stiff piece lifted by a ring setter that does not shrink has risen, not sagged', () => {
  const f = finish({
    form: parseForm(example('small-plain-cylinder.form.json')),
    triangles: 600,
    care: 'quick',
    setting: Setting.parse({
      attitude: 'upright',
      props: [{ kind: 'ring', insideRadius_mm: 20, width_mm: 25, height_mm: 15 }],
    }),
  });
  const last = f.frames[f.frames.length - 1];
  let low = 1;
  for (let i = 2; i < last.positions.length; i += 3) low = Math.min(low, last.positions[i]);
  // The ring is 15 mm high before and after; the floor's middle stands half its fired wall over it.
  expect(low).toBeGreaterThan(0.0149);
  expect(low).toBeLessThan(0.019);
  expect(f.estimates.greatestSag_m.value).toBeLessThan(3e-4);
});

test('the vase on two saddles fires from its file and lies in both to the end', () => {
  const { setting } = parseSetting(example('on-two-saddles.setting.json'));
  const form = parseForm(example('tall-fluted-vase.form.json'));
  const f = finish({ form, setting, triangles: 900, care: 'quick' });
  expect(['stands', 'sags']).toContain(f.verdict.kind);
  expect(deepest(f)).toBeLessThan(1e-4);
  expect(f.estimates.greatestSag_m.value).toBeLessThan(0.02);
});

test('props it cannot stand on are refused before the fire, the piercing ones by number', () => {
  const walls = [0, 180].map((towards_deg) => ({ kind: 'wall', away_mm: 30, towards_deg }));
  const refused = (setting: object): AfterfireError | undefined => {
    try {
      finish({ form: tube, setting: Setting.parse(setting), triangles: 600, care: 'quick' });
    } catch (e) {
      if (e instanceof AfterfireError) return e;
      throw e;
    }
    return undefined;
  };
  expect(propTrouble(refused({ attitude: 'upright', props: walls })?.faults ?? [])).toEqual([0, 1]);
  expect(refused({ attitude: 'leaning', lean_deg: 30 })?.faults[0].expected).toMatch(/something to lean on/);
});
