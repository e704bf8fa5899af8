import { open, readFile, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { afterfire, type Bench, bench } from './terminal.ts';

const FORM = 'small-plain-cylinder.form.json';
const SCHEDULE = 'cone-10-slow.schedule.json';

let at: Bench;
beforeAll(async () => {
  at = await bench();
});
afterAll(() => at.clear());

/** Non-zero, nothing on stdout, and a message holding each of these. */
const refused = async (
  argv: readonly string[],
  code: number,
  ...parts: (string | RegExp)[]
): Promise<void> => {
  const said = await afterfire(argv);
  expect(said.code, said.err).toBe(code);
  expect(said.out).toBe('');
  for (const part of parts) expect(said.err).toMatch(part);
};

test('an unknown field is named, with the line it stands in', async () => {
  const form = await at.spoil(FORM, (f) => ({ ...f, glaze: 'celadon' }));
  await refused(
    ['measures', form],
    2,
    /line \d+, column \d+: form\.glaze/,
    'celadon',
    'no field of this name',
  );
});

test('a missing unit: the message says which name carries it', async () => {
  const form = await at.spoil(FORM, (f) => ({ ...f, wall: [{ along: 0, thickness: 4 }] }));
  await refused(['measures', form], 2, 'thickness', '4', 'thickness_mm');
});

test.each([
  [{ foot: { kind: 'stem' } }, 'form.foot.kind: got "stem"; expected "disc", "ring" or "none"'],
  [{ foot: {} }, 'form.foot.kind: got nothing; expected "disc", "ring" or "none"'],
  [{ sizes: 'dried' }, 'form.sizes: got "dried"; expected "thrown" or "fired"'],
])('a choice that is none: %j', async (change, message) => {
  const form = await at.spoil(FORM, (f) => ({ ...f, ...change }));
  await refused(['measures', form], 2, message);
});

test('a wall thicker than the radius', async () => {
  const form = await at.spoil(FORM, (f) => ({ ...f, wall: [{ along: 0, thickness_mm: 59 }] }));
  await refused(['measures', form], 2, /form\.wall/, '59', 'expected');
});

test('a line that crosses itself', async () => {
  const line = [
    { radius_mm: 40, height_mm: 0 },
    { radius_mm: 60, height_mm: 60 },
    { radius_mm: 20, height_mm: 60 },
    { radius_mm: 70, height_mm: 20 },
  ];
  const form = await at.spoil(FORM, (f) => ({ ...f, line }));
  await refused(['measures', form], 2, /form\.line/, 'cross', 'expected');
});

test('NaN, which JSON does not have, is found by line and column', async () => {
  const form = at.path('nan.form.json');
  await writeFile(form, '{\n  "afterfire": "form/1",\n  "name": NaN\n}\n');
  await refused(['measures', form], 2, 'line 3, column 11', 'NaN', 'an ordinary, finite number');
});

test('a number too large for any number is not taken for infinity', async () => {
  const form = at.path('huge-number.form.json');
  await writeFile(form, '{"afterfire": "form/1", "line": [{"radius_mm": 1e999, "height_mm": 0}]}');
  await refused(['measures', form], 2, 'radius_mm', /Infinity|1e999/);
});

test('a 200 MB file is refused by its size, at once', async () => {
  const form = at.path('vast.form.json');
  const file = await open(form, 'w');
  await file.truncate(200_000_000);
  await file.close();
  const started = performance.now();
  await refused(['fire', form], 4, 'vast.form.json', '200 MB', 'at most');
  expect(performance.now() - started).toBeLessThan(1000);
});

test.each([
  ['unclosed', '['.repeat(100_000)],
  ['closed', `${'['.repeat(100_000)}${']'.repeat(100_000)}`],
])('brackets without end, %s, are named and run out of no stack', async (name, text) => {
  const form = at.path(`${name}.form.json`);
  await writeFile(form, text);
  await refused(['measures', form], 2, `${name}.form.json`, 'brackets', 'at most 200');
});

test('the mark that some editors put before the first letter is no mistake', async () => {
  const form = at.path('marked.form.json');
  await writeFile(form, `\uFEFF${await readFile(at.path(FORM), 'utf8')}`);
  const { code, err } = await afterfire(['measures', form, '--triangles', '300']);
  expect(err).toBe('');
  expect(code).toBe(0);
});

test('a folder that is a file is refused before anything is fired', async () => {
  const before = await readFile(at.path(FORM), 'utf8');
  await refused(['fire', at.path(FORM), '--svg', '--out', at.path(FORM)], 2, '--out', FORM, 'a folder');
  await refused(['fire', at.path(FORM), '--svg', '--out', at.path(`${FORM}/in`)], 2, '--out', 'a folder');
  expect(await readFile(at.path(FORM), 'utf8')).toBe(before);
});

test.each(['', '99999', '4620.5'])('--port "%s"', async (port) => {
  await refused(['serve', '--port', port], 2, '--port', 'a whole number from 0 to 65535');
});

test('a schedule that never melts anything', async () => {
  const schedule = await at.spoil(SCHEDULE, (s) => ({
    ...s,
    segments: [{ kind: 'ramp', rate_C_h: 100, to_C: 800 }],
  }));
  await refused(
    ['fire', at.path(FORM), '--schedule', schedule],
    2,
    /schedule\.segments/,
    '800 °C',
    'or a longer hold',
    /about 1\d\d\d °C/,
  );
});

test('a schedule that melts everything', async () => {
  const schedule = await at.spoil(SCHEDULE, (s) => ({
    ...s,
    segments: [
      { kind: 'ramp', rate_C_h: 100, to_C: 1380 },
      { kind: 'hold', minutes: 600 },
    ],
  }));
  await refused(
    ['fire', at.path(FORM), '--schedule', schedule],
    2,
    /schedule\.segments/,
    '1380 °C',
    'or a shorter hold',
    /about 1\d\d\d °C/,
  );
});

test.each([
  ['--setting', 'upside-down', 'upright, rim-down, on-its-side, all, or a .setting.json file'],
  ['--setting', 'leaning', 'a leaning piece needs something to lean on'],
  ['--friction', '2', 'a number from 0 to 1.5'],
  ['--hot-side', '-5', 'a number from 0 to 150'],
  ['--triangles', 'many', 'a whole number from'],
  ['--triangles', '1e9', 'a whole number from'],
  ['--turn', 'NaN', 'a number from -360 to 360'],
  ['--turn', '', 'a number from -360 to 360'],
])('%s %s', async (flag, value, expected) => {
  await refused(['fire', at.path(FORM), flag, value], 2, flag, expected);
});

test('a file that is not there', async () => {
  await refused(['fire', at.path('no-such.form.json')], 3, 'no-such.form.json', 'no such file');
});

test('a clay given where a form is wanted', async () => {
  await refused(['measures', at.path('studio-porcelain.clay.json')], 2, 'afterfire', 'clay/1', 'form/1');
});

test.each([
  [['burn', 'x.json'], 'unknown command'],
  [['fire'], "missing required argument 'form.json'"],
  [['fire', 'x.json', '--colour'], 'unknown option'],
  [['fire', 'x.json', '--shelf', 'ice'], 'Allowed choices are slides, grips'],
  [['schema', 'glaze'], 'Allowed choices are form, clay'],
])('a command line it does not know: %j', async (argv, message) => {
  await refused(argv, 2, message, '--help');
});
