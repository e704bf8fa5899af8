import { readFile, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { WebIO } from '@gltf-transform/core';
import { validateBytes } from 'gltf-validator';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { demoFolder } from '../../src/cli/home.ts';
import { program } from '../../src/cli/main.ts';
import { afterfire, type Bench, bench, type Said } from './terminal.ts';

const demo = (file: string): string => join(demoFolder(), file);
const CYLINDER = 'small-plain-cylinder.form.json';
/** Coarse and quick: these tests are about the door, not the physics. */
const COARSE = ['--quick', '--triangles', '600'];

let at: Bench;
beforeAll(async () => {
  at = await bench();
});
afterAll(() => at.clear());

test('help names every command, the exit codes and the cautions', async () => {
  const { code, out } = await afterfire(['--help']);
  expect(code).toBe(0);
  for (const word of [
    'fire',
    'measures',
    'heat-work',
    'reduced',
    'schema',
    'serve',
    '130',
    'silica',
    'carbon monoxide',
  ])
    expect(out).toContain(word);
});

test('the manual names every command and option there is, and none that is not', async () => {
  const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
  const manual = await readFile(join(root, 'docs', 'command-line.md'), 'utf8');
  const io = { out: () => {}, err: () => {}, watched: false, signal: new AbortController().signal };
  const { commands } = program(io);
  const options = commands
    .flatMap((command) => [command, ...command.commands])
    .flatMap((command) => command.options.map((option) => option.long ?? ''));
  for (const command of commands) {
    expect(manual).toContain(`\n## ${command.name()}\n`);
    for (const part of command.commands)
      expect(manual).toContain(`\nafterfire ${command.name()} ${part.name()} `);
  }
  for (const option of options) expect(manual).toContain(option);
  for (const [said] of manual.matchAll(/--[a-z][a-z-]*/g))
    expect([...options, '--help', '--version']).toContain(said);
});

// Common practice, no source: cone 10 is about 2350 °F.
test('the schedule of the demo studio reaches about cone 10', async () => {
  const { code, out } = await afterfire(['heat-work', demo('cone-10-slow.schedule.json')]);
  expect(code).toBe(0);
  expect(out).toMatch(/Cone 10, slow: cone (9|10)/);
  expect(out).toMatch(/Peak 12\d\d °C \(23\d\d °F\)/);
  expect(out).toContain('carbon monoxide');
});

test('each schema is JSON Schema, and says what is required', async () => {
  for (const name of ['form', 'clay', 'schedule', 'setting', 'studio', 'reduced']) {
    const { code, out } = await afterfire(['schema', name]);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      $schema: 'https://json-schema.org/draft/2020-12/schema',
      type: 'object',
    });
    expect(JSON.parse(out).required).toContain('afterfire');
  }
});

describe('measures', () => {
  test('wet, dry and fired differ by the shrinkages of the clay, which multiply', async () => {
    const { code, out } = await afterfire(['measures', demo(CYLINDER), '--json']);
    expect(code).toBe(0);
    const { measures, provenance } = JSON.parse(out);
    expect(provenance.join()).toMatch(/Firing shrinkage: 9\.1 % \(a guess/);
    // 6 % then 9.1 % (demo clay): 0.94 × 0.909, in the manner of ASTM C326.
    expect(measures.dry.height_m / measures.wet.height_m).toBeCloseTo(0.94, 6);
    expect(measures.fired.height_m / measures.wet.height_m).toBeCloseTo(0.94 * 0.909, 6);
  });

  test('the table is for people: millimetres, grams, millilitres', async () => {
    const { out } = await afterfire(['measures', demo(CYLINDER)]);
    for (const word of ['height, mm', 'weight, g', 'capacity, ml', 'as thrown', 'bone dry'])
      expect(out).toContain(word);
  });
});

describe('fire', () => {
  let said: Said;
  beforeAll(async () => {
    const wanted = ['--setting', 'all', '--svg', '--png', '--gltf', '--stl', '--out', at.path('out')];
    said = await afterfire(['fire', demo(CYLINDER), ...COARSE, ...wanted]);
  });

  test('says verdict, heat-work, measures, the guess and a caution for each setting', () => {
    expect(said.code, said.err).toBe(0);
    for (const attitude of ['upright', 'rim down', 'on its side']) expect(said.out).toContain(attitude);
    expect(said.out.match(/Heat-work: cone/g)).toHaveLength(3);
    expect(said.out).toMatch(/is a guess until a test bar/);
    expect(said.out).toContain('A prediction, not a promise');
    expect(said.out).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('draws one sheet in millimetres with the guess on it', async () => {
    const svg = await readFile(at.path('out/small-plain-cylinder.svg'), 'utf8');
    const [, width, box] = /width="([\d.]+)mm" height="[\d.]+mm" viewBox="0 0 ([\d.]+) /.exec(svg) ?? [];
    expect(width).toBe(box);
    expect(svg).toContain('is a guess until a test bar');
    expect(svg).toContain('no interval yet');
    expect(svg).toMatch(/Guesses: .*firing shrinkage/);
    expect(svg).toContain('saucer of fired clay');
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect((await readFile(at.path('out/small-plain-cylinder.png'))).subarray(1, 4).toString()).toBe('PNG');
  });

  test('what to look out for stands on the drawing too: a bowl laid on its side gets up', async () => {
    const bowl = demo('wide-shallow-bowl.form.json');
    const out = at.path('bowl');
    await afterfire(['fire', bowl, ...COARSE, '--setting', 'on-its-side', '--svg', '--out', out]);
    expect(await readFile(join(out, 'wide-shallow-bowl.svg'), 'utf8')).toContain(
      'Look out: It does not stay',
    );
  });

  test('the glTF is valid (Khronos validator) and holds before and after', async () => {
    for (const attitude of ['upright', 'rim-down', 'on-its-side']) {
      const glb = await readFile(at.path(`out/small-plain-cylinder-${attitude}.glb`));
      const { issues } = await validateBytes(new Uint8Array(glb));
      expect(issues.messages.filter(({ severity }) => severity <= 1)).toEqual([]);
      const nodes = (await new WebIO().readBinary(new Uint8Array(glb))).getRoot().listNodes();
      expect(nodes.map((node) => node.getName())).toEqual(['before', 'after']);
    }
  });

  test('the STL, read by an outside reader (three.js), holds the clay that the measures say', async () => {
    const { out } = await afterfire(['fire', demo(CYLINDER), ...COARSE, '--json']);
    const stl = await readFile(at.path('out/small-plain-cylinder-upright.stl'));
    const corners = new STLLoader().parse(new Uint8Array(stl).buffer).getAttribute('position');
    let six = 0;
    for (let i = 0; i < corners.count; i += 3) {
      const [a, b, c] = [0, 1, 2].map((k) => [corners.getX(i + k), corners.getY(i + k), corners.getZ(i + k)]);
      six +=
        a[0] * (b[1] * c[2] - b[2] * c[1]) -
        a[1] * (b[0] * c[2] - b[2] * c[0]) +
        a[2] * (b[0] * c[1] - b[1] * c[0]);
    }
    const volume_m3 = six / 6 / 1e9;
    const fired = JSON.parse(out)[0].measures.fired.clayVolume_m3;
    // The measures weigh the mid-surface times the wall; the solid has corners: a few per cent of each other.
    expect(Math.abs(volume_m3 / fired - 1)).toBeLessThan(0.03);
  });

  test('stdout stays JSON when files are written too', async () => {
    const { code, out, err } = await afterfire([
      'fire',
      demo(CYLINDER),
      ...COARSE,
      '--json',
      '--svg',
      '--out',
      at.path('quiet'),
    ]);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toHaveLength(1);
    expect(err).toContain('small-plain-cylinder.svg');
  });

  test('Ctrl-C stops it between two steps: 130, and nothing is written', async () => {
    const stop = new AbortController();
    stop.abort();
    const { code, err } = await afterfire(
      ['fire', demo(CYLINDER), ...COARSE, '--svg', '--out', at.path('never')],
      stop.signal,
    );
    expect(code).toBe(130);
    expect(err).toContain('stopped before the end');
    await expect(stat(at.path('never'))).rejects.toThrow();
  });
});

test('every form of the demo studio fires in its own setting', async () => {
  const studio = JSON.parse(await readFile(demo('demo.studio.json'), 'utf8'));
  for (const { file, setting } of studio.forms) {
    const how = typeof setting === 'string' ? demo(setting) : setting.attitude.replaceAll(' ', '-');
    const { code, out, err } = await afterfire(['fire', demo(file), ...COARSE, '--setting', how, '--json']);
    expect(code, err).toBe(0);
    expect(JSON.parse(out)[0].verdict.text.length).toBeGreaterThan(10);
  }
});

test('the version is that of the package', async () => {
  const root = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
  const { version } = JSON.parse(await readFile(join(root, 'package.json'), 'utf8'));
  expect(await afterfire(['--version'])).toMatchObject({ code: 0, out: `${version}\n` });
});
