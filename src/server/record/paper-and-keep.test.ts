import { randomUUID } from 'node:crypto';
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { expect, test } from 'vitest';
import { withRecord, ZONE } from '../../../test/record-kit.ts';
import { listBackups } from '../../store/backups.ts';
import { beginPiece } from '../../store/pieces.ts';
import type { StudioRecord } from '../../store/record.ts';
import type { Studio } from '../../store/studio-folder.ts';
import { app } from '../app.ts';
import type { PaperAsked, Printer } from './printer.ts';

const AT = 'http://127.0.0.1:4620';

const siteOf = (record: StudioRecord, printer?: Printer) =>
  app({
    page: '.',
    studio: async () => ({}) as Studio,
    record: async () => record,
    ...(printer && { printer }),
  });

const begin = (record: StudioRecord, number: string): number => {
  const now = new Date().toISOString();
  return beginPiece(record.db, { number, at_utc: now, zone: ZONE, uid: randomUUID() }, now).piece;
};

const PDF = new Uint8Array([37, 80, 68, 70]);

test('a printer is asked for pieces by their ids, one paper at a time, and what it says comes along', () =>
  withRecord(async (record) => {
    const asked: PaperAsked[] = [];
    const ends: (() => void)[] = [];
    const site = siteOf(record, async (_, what) => {
      asked.push(what);
      await new Promise<void>((resolve) => void ends.push(resolve));
      return { pdf: PDF, said: ['R-1: no picture, größer'] };
    });
    // A number that would be a path or a header, were it let.
    const id = begin(record, '../"\u00e9,1');
    const get = (query: string) => site.request(`${AT}/api/record/papers/${query}`);
    const first = get(`tags?pieces=${id}&price=yes`);
    await expect.poll(() => ends.length).toBe(1);
    expect((await get(`tags?pieces=${id}`)).status).toBe(422);
    ends[0]!();
    const answer = await first;
    expect(answer.headers.get('content-disposition')).toMatch(/^attachment; filename="[a-z0-9-]+\.pdf"$/);
    expect(JSON.parse(decodeURIComponent(answer.headers.get('afterfire-said')!))).toEqual([
      'R-1: no picture, größer',
    ]);
    expect(asked).toMatchObject([{ kind: 'tags', numbers: ['../"\u00e9,1'], paper: 'a4', price: true }]);
  }));

test.each([
  ['posters?pieces=1', 404],
  ['labels?pieces=999', 404],
  ['labels?pieces=../1', 400],
  ['labels', 400],
  ['labels?pieces=1&labels=__proto__', 400],
  ['labels?pieces=1&first=0', 400],
  ['labels?pieces=1&page=http://elsewhere.example', 400],
  [`labels?pieces=${Array.from({ length: 501 }, (_, i) => i + 1).join(',')}`, 400],
  [`sheet?pieces=${Array.from({ length: 13 }, (_, i) => i + 1).join(',')}`, 400],
])('no paper for %s', (query, status) =>
  withRecord(async (record) => {
    begin(record, 'A-1');
    const site = siteOf(record, async () => ({ pdf: PDF, said: [] }));
    expect((await site.request(`${AT}/api/record/papers/${query}`)).status).toBe(status);
  }),
);

test('nothing is made for another site, and nothing at all under another name', () =>
  withRecord(async (record) => {
    const site = siteOf(record);
    const ask = (headers: Record<string, string>, method = 'GET', path = 'archive') =>
      site.request(`${AT}/api/record/keep/${path}`, { method, headers });
    expect((await ask({ 'sec-fetch-site': 'cross-site' })).status).toBe(403);
    expect((await ask({ host: 'elsewhere.example' })).status).toBe(403);
    expect((await ask({ origin: 'http://elsewhere.example' }, 'POST', 'backups')).status).toBe(403);
    expect(listBackups(record.backups)).toEqual([]);
  }));

test('an archive leaves nothing behind on this machine, taken or not', () =>
  withRecord(async (record) => {
    const site = siteOf(record);
    const left = () => readdirSync(dirname(record.path)).filter((name) => name.startsWith('.afterfire'));
    const url = `${AT}/api/record/keep/archive`;
    const bytes = Buffer.from(await (await site.request(url)).arrayBuffer());
    expect(bytes.subarray(0, 2).toString()).toBe('PK');
    await expect.poll(left).toEqual([]);
    await (await site.request(url)).body!.cancel();
    await expect.poll(left).toEqual([]);
    expect((await site.request(url, { method: 'HEAD' })).status).toBe(200);
    expect(left()).toEqual([]);
  }));

test('a backup is made and is sound; one that was changed, or is no record at all, is said not to be', () =>
  withRecord(async (record) => {
    const site = siteOf(record);
    begin(record, 'A-1');
    // biome-ignore lint/suspicious/noExplicitAny: answers are read as a page reads them
    const ask = async (path: string, method = 'GET'): Promise<any> =>
      (await site.request(`${AT}/api/record/keep/${path}`, { method, headers: { origin: AT } })).json();
    const [{ at_utc }] = (await ask('backups', 'POST')).backups;
    expect(await ask(`backups/${at_utc}`)).toMatchObject({ sound: true, counts: { pieces: 1 } });
    const { path } = listBackups(record.backups)[0]!;
    const bytes = readFileSync(path);
    bytes[bytes.length - 10]! ^= 1;
    writeFileSync(path, bytes);
    const changed = await ask(`backups/${at_utc}`);
    expect(changed).toMatchObject({ sound: false, trouble: expect.stringMatching(/differs/) });
    expect(changed.trouble).not.toContain(dirname(path));
    rmSync(`${path}.sha256`);
    writeFileSync(path, 'no record at all');
    expect(await ask(`backups/${at_utc}`)).toMatchObject({ sound: false });
    expect((await ask('backups/..%2f..%2fstudio.sqlite')).error.code).toBe('not-found');
  }));
