import { readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { jsonSchema } from '../../src/cli/commands/schema.ts';
import { demoFolder } from '../../src/cli/home.ts';
import { parseClay } from '../../src/making/clay/clay.ts';
import { type LearningLog, parseLearningLog } from '../../src/making/learning/learning-log.ts';
import { afterfire, type Bench, bench } from './terminal.ts';

const LOG = 'studio-porcelain.learning.json';
const LATEST = '2026-10-31-small.unloading.json';
const PIECES = 'studio-porcelain.test-pieces.json';

let at: Bench;
beforeAll(async () => {
  at = await bench();
});
afterAll(() => at.clear());

/** The demo's own, whatever happens to the copy. */
const demoLog = async (): Promise<LearningLog> => JSON.parse(await readFile(join(demoFolder(), LOG), 'utf8'));
const logAt = async (file: string): Promise<LearningLog> => JSON.parse(await readFile(at.path(file), 'utf8'));

/** The demo's log without its last entries, under another name. */
const shortLog = async (name: string, keep: number): Promise<string> => {
  const log = await demoLog();
  const path = at.path(`${name}.learning.json`);
  await writeFile(path, JSON.stringify({ ...log, entries: log.entries.slice(0, keep) }));
  return path;
};

/** An unloading of one piece with a few measures: one short run. */
const oneSmallPiece = async (name: string, pieces = 1): Promise<string> => {
  const unloading = JSON.parse(await readFile(at.path(LATEST), 'utf8'));
  const piece = {
    form: 'small-plain-cylinder.form.json',
    setting: { attitude: 'upright' },
    measured: { height_mm: 77, lipWidth: { greatest_mm: 69, least_mm: 68.6 } },
  };
  const path = at.path(`${name}.unloading.json`);
  const all = Array.from({ length: pieces }, (_, i) => ({ ...piece, number: `9${i}` }));
  await writeFile(path, JSON.stringify({ ...unloading, pieces: all }));
  return path;
};

test.each(['unloading', 'test-pieces', 'learning'])(
  'the published schema of %s files is the one that reads them',
  async (name) => {
    const committed = JSON.parse(await readFile(`docs/schema/${name}.schema.json`, 'utf8'));
    expect(committed).toEqual(JSON.parse(JSON.stringify(jsonSchema(name))));
  },
);

describe('learn', () => {
  test('adds an entry, tells expected against measured, and writes the clay as a new file', async () => {
    const log = await shortLog('one', 2);
    const clay = at.path('learned.clay.json');
    const { code, out, err } = await afterfire([
      'learn',
      await oneSmallPiece('one'),
      '--log',
      log,
      '--clay',
      clay,
    ]);
    expect(code, err).toBe(0);
    for (const word of [
      '90, upright: height',
      'four in five',
      'believed now',
      'softer',
      'How predictions tightened',
      '3 entries',
    ])
      expect(out).toContain(word);
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
    const now = parseLearningLog(await logAt('one.learning.json'));
    expect(now.entries).toHaveLength(3);
    expect(now.entries.slice(0, 2)).toEqual((await demoLog()).entries.slice(0, 2));
    const learned = parseClay(JSON.parse(await readFile(clay, 'utf8')));
    expect(learned.sagViscosity).toMatchObject({ how: 'measured' });
    expect(learned.sagViscosity.note).toMatch(/before that 3\.0e\+9/);
  });

  test('begins a log beside the file where there is none, and the same file twice is refused', async () => {
    await rm(at.path(LOG));
    const file = await oneSmallPiece('two');
    const { code, out } = await afterfire(['learn', file, '--json']);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      log: at.path(LOG),
      entries: 1,
      added: [{ kind: 'unloading', contradictions: [] }],
    });
    const before = await readFile(at.path(LOG), 'utf8');
    const twice = await afterfire(['learn', file]);
    expect(twice.code).toBe(2);
    expect(twice.err).toMatch(/from: got "two.unloading.json"; expected something not yet learned from/);
    expect(await readFile(at.path(LOG), 'utf8')).toBe(before);
  });

  test('test pieces are learned from firing by firing; those known already are passed over', async () => {
    const log = at.path('bars.learning.json');
    const first = await afterfire(['learn', at.path(PIECES), '--log', log, '--json']);
    expect(first.code, first.err).toBe(0);
    expect(JSON.parse(first.out).added).toHaveLength(3);
    expect(JSON.parse(first.out).told.join()).toMatch(/softer than .*\n?.*within a factor of 1\.\d/);
    expect((await afterfire(['learn', at.path(PIECES), '--log', log])).code).toBe(2);
    const back = await afterfire(['learn', '--log', log, '--take-back', JSON.parse(first.out).added[1].id]);
    expect(back.code, back.err).toBe(0);
    const again = await afterfire(['learn', at.path(PIECES), '--log', log, '--json']);
    expect(again.err).toMatch(/long hold: learned from already/);
    expect(JSON.parse(again.out).added).toHaveLength(1);
    expect((await logAt('bars.learning.json')).entries).toHaveLength(5);
  });

  test('an entry is taken back, and that is taken back; nothing is deleted', async () => {
    const log = await shortLog('back', 3);
    const gone = (await logAt('back.learning.json')).entries[2].id;
    const one = await afterfire([
      'learn',
      '--log',
      log,
      '--take-back',
      gone,
      '--why',
      'measured another pot',
      '--json',
    ]);
    expect(one.code, one.err).toBe(0);
    const kept = await logAt('back.learning.json');
    expect(kept.entries).toHaveLength(4);
    expect(kept.entries[3]).toMatchObject({ kind: 'taken back', entry: gone, what: 'measured another pot' });
    // Without it, belief is what it was after the two before.
    expect(JSON.parse(one.out).belief.softness.mean).toBeCloseTo(kept.entries[1].after.softness.mean, 6);
    expect((await afterfire(['learn', '--log', log, '--take-back', gone])).err).toMatch(/still counts/);
    const two = await afterfire(['learn', '--log', log, '--take-back', kept.entries[3].id, '--json']);
    expect(JSON.parse(two.out).belief.softness.mean).toBeCloseTo(kept.entries[2].after.softness.mean, 6);
  });

  test('a clay file that is there is never written over, and nothing is learned then', async () => {
    const log = await shortLog('over', 1);
    const clay = await readFile(at.path('studio-porcelain.clay.json'), 'utf8');
    const { code, err } = await afterfire([
      'learn',
      await oneSmallPiece('over'),
      '--log',
      log,
      '--clay',
      at.path('studio-porcelain.clay.json'),
    ]);
    expect(code).toBe(2);
    expect(err).toMatch(/--clay: .*never written over/);
    expect(await readFile(at.path('studio-porcelain.clay.json'), 'utf8')).toBe(clay);
    expect((await logAt('over.learning.json')).entries).toHaveLength(1);
  });

  test.each([
    [[], /--log: got nothing; expected the learning log, or files/],
    [
      ['clay.clay.json'],
      /file: got "clay.clay.json"; expected a file ending in .unloading.json or .test-pieces.json/,
    ],
    [['x.unloading.json'], /x.unloading.json: there is no such file/],
    [['x.unloading.json', '--log', 'x.json'], /--log: .*ending in .learning.json/],
    [['x.unloading.json', '--log', 'x.learning.json', '--take-back', 'a'], /one thing at a time/],
  ])('a command line that cannot be: %j', async (argv, message) => {
    const { code, err, out } = await afterfire(['learn', ...argv]);
    expect(code).toBeGreaterThan(1);
    expect(err).toMatch(message);
    expect(out).toBe('');
  });

  test('a field that is wrong is named with its line', async () => {
    const file = await oneSmallPiece('odd');
    const odd = JSON.parse(await readFile(file, 'utf8'));
    odd.pieces[0].measured.height_mm = -3;
    await writeFile(file, JSON.stringify(odd, null, 2));
    const { code, err } = await afterfire(['learn', file]);
    expect(code).toBe(2);
    expect(err).toMatch(
      /odd.unloading.json, line \d+, column \d+: unloading.pieces\[0\].measured.height_mm: got -3/,
    );
  });

  test('Ctrl-C: 130, and the log is as it was', async () => {
    const log = await shortLog('stop', 1);
    const stop = new AbortController();
    stop.abort();
    const { code } = await afterfire(['learn', await oneSmallPiece('stop'), '--log', log], stop.signal);
    expect(code).toBe(130);
    expect((await logAt('stop.learning.json')).entries).toHaveLength(1);
  });
});

describe('how-right', () => {
  test('the demo: table, coverage and bias, and a drawing with a bar for each measure', async () => {
    const out = at.path('right');
    const said = await afterfire(['how-right', '--svg', '--out', out]);
    expect(said.code, said.err).toBe(0);
    expect(said.out).toMatch(/\d+ of \d+ measures on 20 pieces/);
    for (const word of [
      '80 % were promised',
      'rim down',
      'Small kiln',
      'measured less predicted',
      'before anything was learned',
    ])
      expect(said.out).toContain(word);
    const svg = await readFile(`${out}/studio-porcelain-how-right.svg`, 'utf8');
    expect(svg).toContain('How far they moved');
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    const { rows, inside } = JSON.parse((await afterfire(['how-right', '--json'])).out)[0];
    expect(svg.match(/d="M[\d.]+ [\d.]+V[\d.]+"/g)).toHaveLength(rows.length);
    expect(inside).toBeCloseTo(rows.filter((r: { inside: boolean }) => r.inside).length / rows.length, 12);
  });

  test('a log in which nothing was measured yet says so, in words and on paper', async () => {
    const log = await shortLog('none', 0);
    const { code, out } = await afterfire(['how-right', log, '--svg', '--out', at.path('right')]);
    expect(code).toBe(0);
    expect(out).toContain('Nothing measured yet.');
    expect(await readFile(at.path('right/none-how-right.svg'), 'utf8')).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('a folder without a log, and a file that is none', async () => {
    const empty = await afterfire(['how-right', at.path('right')]);
    expect(empty.code).toBe(2);
    expect(empty.err).toMatch(/no learning log.*afterfire learn/);
    const clay = await afterfire(['how-right', at.path('studio-porcelain.clay.json')]);
    expect(clay.code).toBe(2);
    expect(clay.err).toMatch(/learning\/1/);
  });
});
