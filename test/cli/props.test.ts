import { readFile, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { WebIO } from '@gltf-transform/core';
import { validateBytes } from 'gltf-validator';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ACCENT, BAND } from '../../src/cli/drawing/ink.ts';
import { afterfire, type Bench, bench } from './terminal.ts';

const VASE = 'pierced-fluted-vase.form.json';
const CYLINDER = 'small-plain-cylinder.form.json';
const SADDLES = 'on-two-saddles.setting.json';

let at: Bench;
beforeAll(async () => {
  at = await bench();
});
afterAll(() => at.clear());

/** How many paths of a drawing are drawn in the red of what is at fault. */
const redLines = (svg: string): number =>
  svg.split('\n').filter((line) => line.includes(`stroke="${ACCENT}" stroke-width="0.7"`)).length;

const setting = async (name: string, value: object): Promise<string> => {
  const path = at.path(`${name}.setting.json`);
  await writeFile(path, JSON.stringify({ afterfire: 'setting/1', name, ...value }));
  return path;
};

test('a pierced, fluted vase on its side on two saddles fires from its files, with bands and a verdict', async () => {
  const out = at.path('saddles');
  const {
    code,
    err,
    out: said,
  } = await afterfire([
    ...['fire', at.path(VASE), '--setting', at.path(SADDLES), '--triangles', '2000'],
    ...['--json', '--svg', '--gltf', '--out', out],
  ]);
  expect(code, err).toBe(0);
  const [answer] = JSON.parse(said);
  expect(answer.verdict.text).toMatch(/lip drops .*mm beyond shrinkage/);
  expect(JSON.stringify(answer.warnings)).not.toContain('left out'); // it is really pierced
  expect(answer.trials.count).toBeGreaterThanOrEqual(8);
  expect(answer.estimates.lipDrop_m.numerical).toBeGreaterThan(0);
  expect(answer.estimates.lipDrop_m.low).toBeLessThanOrEqual(answer.estimates.lipDrop_m.value);
  expect(answer.estimates.lipDrop_m.high).toBeGreaterThan(answer.estimates.lipDrop_m.value);
  for (const shape of ['stiff', 'fired', 'soft']) expect(answer.bands[shape].length).toBeGreaterThan(0);
  expect(answer.rests.map(({ on }: { on: string }) => on)).toEqual([
    'the shelf',
    'prop 1 (saddle)',
    'prop 2 (saddle)',
  ]);

  const svg = await readFile(join(out, 'pierced-fluted-vase.svg'), 'utf8');
  expect(svg).toContain(`fill="${BAND}"`);
  expect(svg).toContain('four cases in five lie here');
  expect(svg).toContain('load limits'); // the caution about props
  expect(svg).not.toMatch(/NaN|undefined|Infinity/);

  const glb = new Uint8Array(await readFile(join(out, 'pierced-fluted-vase-on-two-saddles.glb')));
  const { issues } = await validateBytes(glb);
  expect(issues.messages.filter(({ severity }) => severity <= 1)).toEqual([]);
  const nodes = (await new WebIO().readBinary(glb)).getRoot().listNodes();
  expect(nodes.map((node) => node.getName())).toEqual([
    'before',
    'after',
    'prop 1, saddle',
    'prop 2, saddle',
  ]);
});

type Carving = { width_mm: number; along: number };

test.each([
  ['cut in two', (c: Carving[]) => [{ ...c[0], width_mm: 30 }, c[1]], /carving\[0\].*cut the pot in two/],
  [
    'over the lip',
    (c: Carving[]) => [c[0], { ...c[1], along: 0.99 }],
    /carving\[1\]\.along.*clear of the lip/,
  ],
])('openings %s: said by name, drawn in red, nothing fired', async (_, spoil, message) => {
  const form = await at.spoil(VASE, (f) => ({ ...f, carving: spoil(f.carving as Carving[]) }));
  const out = at.path('carving');
  const { code, err, out: said } = await afterfire(['fire', form, '--svg', '--out', out]);
  expect(code).toBe(2);
  expect(said).toBe('');
  expect(err).toMatch(message);
  const svg = await readFile(join(out, 'spoilt-pierced-fluted-vase-at-fault.svg'), 'utf8');
  expect(redLines(svg)).toBeGreaterThan(3);
  await expect(stat(join(out, 'spoilt-pierced-fluted-vase.svg'))).rejects.toThrow();
});

test('callipers off the wall are crossed in red', async () => {
  const callipers = [{ along: 0.01, angle_deg: 40, thickness_mm: 3 }];
  const form = await at.spoil(CYLINDER, (f) => ({ ...f, uneven: { callipers } }));
  const { code, err } = await afterfire(['fire', form, '--svg', '--out', at.path('callipers')]);
  expect(code).toBe(2);
  expect(err).toMatch(/uneven\.callipers\[0\]\.along: got 0\.01/);
  const svg = await readFile(at.path('callipers/spoilt-small-plain-cylinder-at-fault.svg'), 'utf8');
  expect(redLines(svg)).toBe(3); // two strokes of a cross, one of the legend
});

test('walls that pierce a piece are named and drawn in red; what was fired before is still told and written', async () => {
  const pierced = await setting('between-walls', {
    attitude: 'upright',
    props: [
      { kind: 'wall', away_mm: 30 },
      { kind: 'wall', away_mm: 30, towards_deg: 180 },
    ],
  });
  const out = at.path('walls');
  const {
    code,
    err,
    out: said,
  } = await afterfire([
    ...['fire', at.path(CYLINDER), '--setting', 'upright', '--setting', pierced],
    ...['--quick', '--triangles', '600', '--json', '--svg', '--out', out],
  ]);
  expect(code).toBe(2);
  expect(err).toMatch(/setting\.props\[0\].*mm deep in the piece/);
  expect(err).toMatch(/setting\.props\[1\]/);
  expect(JSON.parse(said)).toHaveLength(1);
  expect(redLines(await readFile(join(out, 'small-plain-cylinder.svg'), 'utf8'))).toBe(0);
  const svg = await readFile(join(out, 'small-plain-cylinder-between-walls-at-fault.svg'), 'utf8');
  expect(redLines(svg)).toBeGreaterThanOrEqual(3);
});

test('a set of props it tips off: what happens, and a plumb line in red', async () => {
  const one = await setting('one-post', {
    attitude: 'upright',
    props: [{ kind: 'post', x_mm: 35, width_mm: 20, height_mm: 90 }],
  });
  const { code, err } = await afterfire([
    ...['fire', at.path(CYLINDER), '--setting', one, '--triangles', '600', '--svg', '--out', at.path('tips')],
  ]);
  expect(code).toBe(2);
  expect(err).toMatch(/setting\.props: .*(tips|slides|rest)/);
  expect(
    redLines(await readFile(at.path('tips/small-plain-cylinder-one-post-at-fault.svg'), 'utf8')),
  ).toBeGreaterThan(2);
});

test('friction and a hot side come through from the flags, over what the file says', async () => {
  const { code, err, out } = await afterfire([
    ...['fire', at.path(CYLINDER), '--quick', '--triangles', '400', '--json'],
    ...['--friction', '0.3', '--hot-side', '20', '--hot-towards', '90', '--shelf', 'grips'],
  ]);
  expect(code, err).toBe(0);
  expect(JSON.parse(out)[0].setting).toMatchObject({
    friction: 0.3,
    hotSide: { difference_C: 20, towards_deg: 90 },
    shelf: 'grips',
  });
});

test('twins: both side by side in one drawing, and the sentence', async () => {
  const out = at.path('twins');
  const {
    code,
    err,
    out: said,
  } = await afterfire([
    ...['twins', at.path('lobed-tube.form.json'), '--setting', 'on-its-side'],
    ...['--quick', '--triangles', '800', '--svg', '--out', out],
  ]);
  expect(code, err).toBe(0);
  expect(said).toMatch(/that of the plain twin/);
  expect(said).toMatch(/squeezed at the lip it is/);
  const svg = await readFile(join(out, 'lobed-tube-twins.svg'), 'utf8');
  expect(svg).toContain('On its side, with its lobes, along');
  expect(svg).toContain('On its side, plain, along');
});

test('twins of a piece with nothing to take away', async () => {
  const { code, err } = await afterfire(['twins', at.path(CYLINDER)]);
  expect(code).toBe(2);
  expect(err).toMatch(/form\.alterations: got \[\]; expected lobes, flutes or facets/);
});
