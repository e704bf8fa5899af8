import { createHash, randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { expect, test } from 'vitest';
import { withRecord, ZONE } from '../../../test/record-kit.ts';
import type { StudioRecord } from '../../store/record.ts';
import type { Studio } from '../../store/studio-folder.ts';
import { app } from '../app.ts';

const AT = 'http://127.0.0.1:4620';
const OWN = { origin: AT, 'content-type': 'application/json' };

const siteOf = (record?: StudioRecord) =>
  app({
    page: '.',
    studio: async () => ({}) as Studio,
    ...(record && { record: async () => record }),
  });
type Site = ReturnType<typeof siteOf>;

// biome-ignore lint/suspicious/noExplicitAny: answers are read as a page reads them
const ask = async (site: Site, path: string, method = 'GET', body?: unknown): Promise<any> => {
  const answer = await site.request(`${AT}/api/record${path}`, {
    method,
    headers: OWN,
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  return { status: answer.status, ...(await answer.json()) };
};

const frame = () => ({ at_utc: new Date().toISOString(), zone: ZONE, uid: randomUUID() });

const begun = async (site: Site, number = 'A-001') =>
  (await ask(site, '/pieces', 'POST', { ...frame(), number })).piece.id as number;

test('without a record every address says so, and the studio does not promise one', async () => {
  const { status, error } = await ask(siteOf(), '/today');
  expect(status).toBe(404);
  expect(error.message).toMatch(/--record/);
  expect(await (await siteOf().request(`${AT}/api/studio`)).json()).toEqual({});
});

test('an entry sent twice, because its answer was lost, is written once; another under its uid is refused', () =>
  withRecord(async (record) => {
    const site = siteOf(record);
    const beginning = { ...frame(), number: 'A-001' };
    const first = await ask(site, '/pieces', 'POST', beginning);
    expect((await ask(site, '/pieces', 'POST', beginning)).piece.id).toBe(first.piece.id);
    const entry = { ...frame(), piece: first.piece.id, kind: 'noted', note: 'a soft lip' };
    const once = await ask(site, '/entries', 'POST', { entries: [entry] });
    expect((await ask(site, '/entries', 'POST', { entries: [entry] })).entries).toEqual(once.entries);
    const other = await ask(site, '/entries', 'POST', { entries: [{ ...entry, note: 'another' }] });
    expect(other.status).toBe(400);
    expect((await ask(site, `/pieces/${first.piece.id}`)).entries).toHaveLength(2);
  }));

test('a step is taken back by a new entry, and that taken back brings it back', () =>
  withRecord(async (record) => {
    const site = siteOf(record);
    const piece = await begun(site);
    const { entries } = await ask(site, '/entries', 'POST', {
      entries: [{ ...frame(), piece, kind: 'formed', data: { how: 'thrown', clay_g: 900 } }],
    });
    const stage = async () => (await ask(site, `/pieces/${piece}`)).piece.state.stage;
    expect(await stage()).toBe('formed');
    const undone = await ask(site, '/undo', 'POST', { batch: entries[0].batch, zone: ZONE });
    expect(await stage()).toBe('begun');
    await ask(site, '/undo', 'POST', { batch: undone.entries[0].batch, zone: ZONE });
    expect(await stage()).toBe('formed');
    expect((await ask(site, `/pieces/${piece}`)).entries).toHaveLength(4);
  }));

test('what cannot be is refused in words and nothing of it is written', () =>
  withRecord(async (record) => {
    const site = siteOf(record);
    const piece = await begun(site);
    const answer = await ask(site, '/entries', 'POST', {
      entries: [{ ...frame(), piece, kind: 'sold', data: { price_minor: 100, currency: 'EUR' } }],
    });
    expect(answer.status).toBe(400);
    expect(answer.error.message).toMatch(/came out of the kiln/);
    expect((await ask(site, `/pieces/${piece}`)).entries).toHaveLength(1);
  }));

test('a firing is told of all that stands in it, each step once however often it is sent', () =>
  withRecord(async (record) => {
    const site = siteOf(record);
    const [a, b] = [await begun(site, 'A-001'), await begun(site, 'A-002')];
    const { firing } = await ask(site, '/firings', 'POST', { ...frame(), name: 'Firing 1' });
    const dry = [a, b].flatMap((piece) => [
      { ...frame(), piece, kind: 'formed' },
      { ...frame(), piece, kind: 'dry' },
      { ...frame(), piece, kind: 'set', firing: firing.id },
    ]);
    expect((await ask(site, '/entries', 'POST', { entries: dry })).status).toBe(201);
    const found = [{ piece: b, lost: 'cracked', note: 'from the lip down' }];
    for (const [step, extra] of [
      ['lit', {}],
      ['off', {}],
      ['opened', { found }],
    ] as const) {
      const body = { ...frame(), ...extra };
      expect((await ask(site, `/firings/${firing.id}/${step}`, 'POST', body)).status).toBe(201);
      expect((await ask(site, `/firings/${firing.id}/${step}`, 'POST', body)).status).toBe(201);
    }
    expect((await ask(site, `/pieces/${a}`)).piece.state.stage).toBe('unloaded');
    expect((await ask(site, `/numbered/A-002`)).piece.state.loss.cause).toBe('cracked');
    const today = await ask(site, '/today');
    expect(today.unphotographed.first).toEqual([{ piece: a, number: 'A-001' }]);
    expect((await ask(site, '/search?q=A-002')).hits[0].id).toBe(b);
  }));

const PNG = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);

test('a photo is known by what is in it; what is none, or too large, or of another page, stays out', () =>
  withRecord(async (record) => {
    const site = siteOf(record);
    const put = (body: Uint8Array<ArrayBuffer>, headers: Record<string, string> = { origin: AT }) =>
      site.request(`${AT}/api/record/photos`, {
        method: 'PUT',
        body,
        headers: { ...headers, 'content-length': String(body.length), 'content-type': 'image/png' },
      });
    const kept = (await (await put(new Uint8Array(PNG))).json()) as { sha256: string };
    expect(kept.sha256).toBe(createHash('sha256').update(PNG).digest('hex'));
    const back = await site.request(`${AT}/api/record/photos/${kept.sha256}`);
    expect(back.headers.get('content-type')).toBe('image/png');
    expect(Buffer.from(await back.arrayBuffer()).equals(PNG)).toBe(true);
    expect((await put(new Uint8Array(Buffer.from('<svg onload="alert(1)"/>')))).status).toBe(400);
    expect((await put(new Uint8Array(25_000_001))).status).toBe(413);
    expect((await put(new Uint8Array(PNG), { origin: 'http://elsewhere.example' })).status).toBe(403);
    for (const name of ['..%2f..%2fstudio.sqlite', '%2e%2e', 'A'.repeat(64), '0'.repeat(64)])
      expect((await site.request(`${AT}/api/record/photos/${name}`)).status, name).toBe(404);
    expect(existsSync(record.photos)).toBe(true);
    const small = `/api/record/photos/${kept.sha256}/small`;
    const putSmall = (at: string, body: Uint8Array<ArrayBuffer>) =>
      site.request(`${AT}${at}`, {
        method: 'PUT',
        body,
        headers: { origin: AT, 'content-type': 'image/png' },
      });
    const none = await site.request(`${AT}${small}`);
    expect(none.headers.get('cache-control')).toBe('private, max-age=60'); // the photo itself stands in
    expect(Buffer.from(await none.arrayBuffer()).equals(PNG)).toBe(true);
    expect((await putSmall(small, new Uint8Array(200_001))).status).toBe(413);
    expect((await putSmall(small, new Uint8Array(Buffer.from('<svg/>')))).status).toBe(400);
    expect((await putSmall(small.replace(kept.sha256, '0'.repeat(64)), new Uint8Array(PNG))).status).toBe(
      400,
    );
    expect((await putSmall(small, new Uint8Array(PNG))).status).toBe(201);
    expect((await site.request(`${AT}${small}`)).headers.get('cache-control')).toMatch(/immutable/);
  }));
