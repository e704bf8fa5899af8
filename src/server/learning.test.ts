import { chmod, cp, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { LearningLog } from '../making/learning/learning-log.ts';
import type { Unloading } from '../making/learning/unloading.ts';
import { readStudio } from '../store/studio-folder.ts';
import { writerOf } from '../store/studio-writer.ts';
import { app } from './app.ts';

/** Adding to a studio over HTTP. Cross-site request forgery: OWASP's check of Origin, and a content type no form can send. */
const DEMO = new URL('../../examples', import.meta.url).pathname;
const HOME = 'http://127.0.0.1:4620';
const LOG = 'studio-porcelain.learning.json';
const FIRST = '2026-03-14-front.unloading.json';

let whole: string;
let folder: string;
beforeAll(async () => {
  whole = await mkdtemp(join(tmpdir(), 'afterfire-server-'));
});
afterAll(() => rm(whole, { recursive: true, force: true }));
beforeEach(async () => {
  folder = await mkdtemp(join(whole, 'studio-'));
  await cp(DEMO, folder, { recursive: true });
});

const site = (writes = true) =>
  app({ page: folder, studio: () => readStudio(folder), ...(writes && { writer: writerOf(folder) }) });

const post = (path: string, body: unknown, headers: Record<string, string> = {}, writes = true) =>
  site(writes).request(`${HOME}${path}`, {
    method: 'POST',
    body: typeof body === 'string' ? body : JSON.stringify(body),
    headers: { 'content-type': 'application/json', origin: HOME, ...headers },
  });

const json = async <T>(file: string): Promise<T> =>
  JSON.parse(await readFile(join(folder, file), 'utf8')) as T;
const errorOf = async (answer: Response) =>
  ((await answer.json()) as { error: { code: string; message: string; faults: { field: string }[] } }).error;

/** The log as it was before its last entry, kept in the folder, and that entry. */
const oneBefore = async () => {
  const log = await json<LearningLog>(LOG);
  const entries = log.entries.slice(0, -1);
  await writeFile(join(folder, LOG), JSON.stringify({ ...log, entries }));
  return { clay: log.clay, follows: entries.at(-1)?.id ?? null, entry: log.entries.at(-1) };
};

test('the studio tells of unloadings, test pieces and learning, and none where there are none', async () => {
  const get = async () => (await site().request(`${HOME}/api/studio`)).json();
  const full = await get();
  expect(Object.keys(full.unloadings)).toContain('2026-03-14-front');
  expect(Object.keys(full.testPieces)).toEqual(['studio-porcelain']);
  expect(full.learning['studio-porcelain'].entries.length).toBeGreaterThan(3);
  for (const file of await readdir(folder))
    if (/\.(unloading|learning|test-pieces)\.json$/.test(file)) await rm(join(folder, file));
  expect(await get()).toMatchObject({ unloadings: {}, testPieces: {}, learning: {} });
});

describe('an unloading', () => {
  test('is kept under a name made of its day and kiln, and the next of that day under another', async () => {
    const unloading = { ...(await json<Unloading>(FIRST)), kiln: '../../Größter Ofen', date: '2026-11-25' };
    expect(await (await post('/api/unloadings', unloading)).json()).toEqual({
      key: '2026-11-25-gro-ter-ofen',
    });
    const again = await post('/api/unloadings', unloading);
    expect(again.status).toBe(201);
    expect(await again.json()).toEqual({ key: '2026-11-25-gro-ter-ofen-2' });
    expect((await json<Unloading>('2026-11-25-gro-ter-ofen.unloading.json')).kiln).toBe(unloading.kiln);
    // Nothing half written is left, and the studio still opens.
    expect((await readdir(folder)).filter((f) => f.endsWith('.new'))).toEqual([]);
    expect(Object.keys((await readStudio(folder)).unloadings)).toContain('2026-11-25-gro-ter-ofen-2');
  });

  test('that names what the studio does not have, or measures what cannot be, is told field by field', async () => {
    const good = await json<Unloading>(FIRST);
    const odd = { ...good, clay: 'moon.clay.json', pieces: [{ ...good.pieces[0], form: 'moon.form.json' }] };
    const { faults } = await errorOf(await post('/api/unloadings', odd));
    expect(faults.map((f) => f.field)).toEqual(['unloading.clay', 'unloading.pieces[0].form']);
    const bad = await post('/api/unloadings', { ...good, date: 'yesterday' });
    expect(bad.status).toBe(400);
    expect((await errorOf(bad)).faults.map((f) => f.field)).toEqual(['unloading.date']);
  });
});

describe('an entry of the learning log', () => {
  test('is added to the log that is there; all else in it stays as it was', async () => {
    const whole = await json<LearningLog>(LOG);
    const sent = await oneBefore();
    const answer = await post('/api/learning', sent);
    expect(answer.status).toBe(201);
    expect(await answer.json()).toEqual({ key: 'studio-porcelain', log: whole });
    expect(await json(LOG)).toEqual(whole);
  });

  test('begins a log where the clay has none', async () => {
    const { entries, clay } = await json<LearningLog>(LOG);
    await rm(join(folder, LOG));
    const answer = await post('/api/learning', { clay, follows: null, entry: entries[0] });
    expect(answer.status).toBe(201);
    expect((await json<LearningLog>(LOG)).entries).toEqual([entries[0]]);
  });

  test('takes another back', async () => {
    const log = await json<LearningLog>(LOG);
    const [first] = log.entries;
    const belief = { before: first.before, after: first.before };
    const entry = {
      id: 'back',
      date: '2026-11-25',
      kind: 'taken back',
      entry: first.id,
      what: 'wrong kiln',
      ...belief,
    };
    const sent = { clay: log.clay, follows: log.entries.at(-1)?.id, entry };
    expect((await post('/api/learning', sent)).status).toBe(201);
    const twice = { ...sent, follows: 'back', entry: { ...entry, id: 'again' } };
    expect((await errorOf(await post('/api/learning', twice))).faults[0].field).toBe('entry.entry');
  });

  test('of a page that did not know the last one is refused, and so is the same twice', async () => {
    const sent = await oneBefore();
    const before = await readFile(join(folder, LOG), 'utf8');
    const late = await post('/api/learning', { ...sent, follows: null });
    expect(late.status).toBe(422);
    expect((await errorOf(late)).message).toMatch(/changed meanwhile/);
    expect(await readFile(join(folder, LOG), 'utf8')).toBe(before);
    await post('/api/learning', sent);
    const twice = await post('/api/learning', { ...sent, follows: (sent.entry as { id: string }).id });
    expect((await errorOf(twice)).faults[0].field).toBe('entry.id');
  });

  test('of many pages at once: one is added, the others are told, none is lost half way', async () => {
    const sent = await oneBefore();
    const answers = await Promise.all(Array.from({ length: 8 }, () => post('/api/learning', sent)));
    expect(answers.filter((a) => a.status === 201)).toHaveLength(1);
    expect(answers.filter((a) => a.status === 422)).toHaveLength(7);
    expect((await json<LearningLog>(LOG)).entries.at(-1)?.id).toBe((sent.entry as { id: string }).id);
  });

  test('of a clay nobody has, or without its parts, is told', async () => {
    const sent = await oneBefore();
    expect((await errorOf(await post('/api/learning', { ...sent, clay: 'moon dust' }))).faults[0].field).toBe(
      'clay',
    );
    const empty = await post('/api/learning', { clay: sent.clay, follows: null, entry: {} });
    expect(empty.status).toBe(400);
    expect((await errorOf(empty)).faults[0].field).toMatch(/^body\.entry/);
  });
});

describe('refused, and nothing written', () => {
  test.each([
    ['a page of another site', { origin: 'https://example.org' }, 403],
    ['a page of another port', { origin: 'http://127.0.0.1:8080' }, 403],
    ['a page that does not say where it is from', { origin: '' }, 403],
    ['another name pointed at this machine', { host: 'example.org', origin: 'http://example.org' }, 403],
    ['what a form of another site could send', { 'content-type': 'text/plain' }, 400],
  ])('%s', async (_, headers, status) => {
    const before = await readdir(folder);
    const answer = await post('/api/unloadings', await json(FIRST), headers as Record<string, string>);
    expect(answer.status).toBe(status);
    expect(await readdir(folder)).toEqual(before);
  });

  test('a body that is no JSON, with the place where it goes wrong', async () => {
    const answer = await post('/api/unloadings', '{"afterfire": ');
    expect(answer.status).toBe(400);
    expect((await errorOf(answer)).message).toMatch(/body, line 1, column/);
  });

  test('a body past the limit', async () => {
    const body = ' '.repeat(2_100_000);
    const answer = await post('/api/learning', body, { 'content-length': String(body.length) });
    expect(answer.status).toBe(413);
  });

  test('the demo is shown and not written to', async () => {
    const answer = await post('/api/unloadings', await json(FIRST), {}, false);
    expect(answer.status).toBe(422);
    expect((await errorOf(answer)).message).toMatch(/--studio/);
  });

  test.skipIf(process.getuid?.() === 0)('a folder that cannot be written to', async () => {
    await chmod(folder, 0o500);
    const answer = await post('/api/unloadings', await json(FIRST));
    await chmod(folder, 0o700);
    expect(answer.status).toBe(422);
    expect((await errorOf(answer)).message).toMatch(/may not be written to. Nothing of this was written/);
  });
});
