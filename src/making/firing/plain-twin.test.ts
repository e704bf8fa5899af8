import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseClay } from '../clay/clay.ts';
import { type Form, parseForm } from '../form/form.ts';
import { parseSchedule } from '../kiln/schedule.ts';
import { compareTwins, fireTwins, type TwinComparison, type Twins } from './compare-twins.ts';
import type { Firing, FiringInput } from './firing.ts';
import { plainTwin } from './plain-twin.ts';
import { Setting } from './setting.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));
const tube = (alterations: object[], radius_mm = 45, height_mm = 110, thickness_mm = 2.5): Form =>
  parseForm({
    afterfire: 'form/1',
    name: 'twin',
    sizes: 'thrown',
    line: [
      { radius_mm, height_mm: 0 },
      { radius_mm, height_mm },
    ],
    wall: [{ along: 0, thickness_mm }],
    foot: { kind: 'none' },
    alterations,
  });
const lobes = (count: number, depth_mm: number) => ({
  kind: 'lobes',
  count,
  depth: [{ along: 0, depth_mm }],
});
const inputFor = (form: Form, attitude: string, triangles = 1600): FiringInput => ({
  form,
  clay,
  schedule,
  setting: Setting.parse({ attitude }),
  triangles,
  care: 'full',
});
const both = (input: FiringInput): Twins => {
  const run = fireTwins(input);
  let before = 0;
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) {
      if (!r.value) throw new Error('no twin');
      return r.value;
    }
    expect(r.value.fraction).toBeGreaterThanOrEqual(before - 1e-9);
    before = r.value.fraction;
  }
};

describe('the plain twin', () => {
  test('lobes and facets are gone, everything else is as it was', () => {
    const push = { kind: 'push', angle_deg: 20, along: 0.5, reach_mm: 20, depth_mm: 4 };
    const oval = { kind: 'oval', longer_percent: 10 };
    const form = tube([
      lobes(5, 8),
      push,
      { kind: 'facets', count: 8, flatness: 0.5, from: 0.2, to: 0.8 },
      oval,
    ]);
    const twin = plainTwin(form);
    expect(twin?.without).toBe('lobes and facets');
    expect(twin?.form.alterations).toEqual(tube([push, oval]).alterations);
    expect({ ...twin?.form, name: form.name, alterations: [] }).toEqual({ ...form, alterations: [] });
    expect(parseForm(twin?.form)).toEqual(twin?.form);
  });

  test('many and shallow are flutes', () => {
    expect(plainTwin(tube([lobes(24, 2)]))?.without).toBe('flutes');
  });

  test('a piece with nothing to take away has none', () => {
    expect(plainTwin(tube([]))).toBeUndefined();
    expect(plainTwin(tube([lobes(6, 0)]))).toBeUndefined();
    const run = fireTwins(inputFor(tube([]), 'upright'));
    expect(run.next()).toEqual({ done: true, value: undefined });
  });
});

describe('sag against sag', () => {
  const side = (flutes: number): Twins =>
    both({ ...inputFor(tube([lobes(flutes, 3)], 30, 70, 4.5), 'on its side', 5000), care: 'quick' });
  const { piece, plain, comparison } = side(32);

  test('a fluted tube on its side sags k² times as much as its plain twin, k its longer way round, within 4 %, and nearer the finer they are', () => {
    // check-values/physics.md 7.1: across the flutes D is D/k, and the wall weighs k times as much; a ring under its
    // own weight sinks as weight over D. Equal walls, so k is the ratio of the weights.
    // The formula spreads the flutes evenly: what is left falls as 1/count² (measured 7.8 % at 20, 2.8 % at 32).
    const off = (c: TwinComparison): number => Math.abs(c.dropRatio * (1 + c.moreClay) ** 2 - 1);
    expect(off(comparison)).toBeLessThan(0.04);
    expect(off(side(20).comparison)).toBeGreaterThan(2 * off(comparison));
    expect(comparison.dropRatio).toBe(plain.estimates.lipDrop_m.value / piece.estimates.lipDrop_m.value);
  });

  const ended = (f: Firing, kind: Firing['verdict']['kind']): Firing => ({
    ...f,
    verdict: { kind, text: `It ${kind}.` },
  });
  const dropping = (f: Firing, value: number, numerical = 0): Firing => ({
    ...f,
    estimates: { ...f.estimates, lipDrop_m: { ...f.estimates.lipDrop_m, value, numerical } },
  });
  const text = (a: Firing, b: Firing): string => compareTwins(a, b, 'flutes').text;

  test('it is told in words', () => {
    expect(comparison.text).toMatch(
      /^The lip drops [\d.]+ mm, that of the plain twin .* softer here, it drops/,
    );
    expect(text(dropping(piece, 0.004), dropping(plain, 0.012))).toMatch(
      /drops 4\.0 mm, that of the plain twin 12 mm: with its flutes it drops 3\.0 times less, for \d+ % more clay/,
    );
    expect(text(dropping(piece, 0.004), dropping(plain, 0.005))).toContain('it drops 20 % less');
    expect(text(dropping(piece, 0.01), dropping(plain, 0.004))).toContain('2.5 times as much');
  });

  test('a difference smaller than the error of the calculation is none', () => {
    expect(text(dropping(piece, 0.004, 4e-4), dropping(plain, 0.0045, 4e-4))).toContain(
      'no difference to speak of',
    );
    expect(text(dropping(piece, 0.004, 1e-4), dropping(plain, 0.0045, 1e-4))).toContain('11 % less');
  });

  test('where one falls, who holds is said and no ratio is made up', () => {
    const held = compareTwins(piece, ended(plain, 'keeps-falling'), 'flutes');
    expect(held.dropRatio).toBeNaN();
    expect(held.text).toBe('Its flutes hold it up: the plain twin does not come through. It keeps-falling.');
    expect(text(ended(piece, 'falls-over'), plain)).toMatch(/do it no good here/);
    expect(text(ended(piece, 'falls-over'), ended(plain, 'falls-over'))).toMatch(/^Neither holds/);
  });
});
