import { Hono } from 'hono';
import { describe, expect, test } from 'vitest';
import { app } from '../app.ts';
import { admitDevices } from './admit.ts';
import type { Device, DeviceBook } from './devices.ts';
import { laptopRoutes } from './laptop-routes.ts';
import { CODE_GOOD_FOR_ms, FAILS, makeCodes } from './pairing-code.ts';
import { makeShare } from './share.ts';
import { trustSite } from './trust-site.ts';

/** Who comes in over the studio's network. Attacks by name: OWASP (DNS rebinding, cross-site request forgery, brute force). */
const HOST = '192.168.7.20:4621';
const PLACES = { secure: `https://${HOST}/`, trust: 'http://192.168.7.20:4622/', fingerprint: 'AA:BB' };

const bookOf = (): DeviceBook => {
  const all = new Map<string, Device>();
  return {
    all: () => [...all.values()],
    put: (d) => void all.set(d.id, d),
    remove: (id) => void all.delete(id),
  };
};

const stand = () => {
  let now = 1_700_000_000_000;
  const share = makeShare(bookOf(), PLACES, () => now);
  const site = app({
    page: '.',
    studio: async () => ({ name: 'the studio' }) as never,
    admit: admitDevices(share, ['192.168.7.20']),
  });
  const sharing = { now: () => share, start: async () => share, stop: async () => {} };
  const laptop = new Hono().route('/api/share', laptopRoutes(sharing));
  const ask = (path: string, init: RequestInit & { host?: string; from?: string; cookie?: string } = {}) => {
    const { host = HOST, from, cookie, ...rest } = init;
    const headers = new Headers(rest.headers);
    headers.set('host', host);
    if (from) headers.set('origin', from);
    if (cookie) headers.set('cookie', cookie);
    return site.request(`https://${host}${path}`, { ...rest, headers });
  };
  const join = (code: string, more: { host?: string; from?: string } = {}) =>
    ask('/api/join', {
      method: 'POST',
      body: JSON.stringify({ code, name: 'kiln room tablet' }),
      from: `https://${HOST}`,
      ...more,
    });
  const open = async (): Promise<string> => {
    const answer = await laptop.request('/api/share/code', { method: 'POST' });
    return ((await answer.json()) as { code: { shown: string } }).code.shown;
  };
  return { share, ask, join, open, laptop, wait: (ms: number) => (now += ms) };
};

const cookieOf = (answer: Response): string => (answer.headers.get('set-cookie') ?? '').split(';')[0];

describe('a device with the code', () => {
  test('is let in, once, and keeps its way in where no script can read it', async () => {
    const s = stand();
    expect((await s.ask('/api/studio')).status).toBe(401);
    const code = await s.open();
    const answer = await s.join(code.toLowerCase());
    expect(answer.status).toBe(200);
    expect(answer.headers.get('set-cookie')).toMatch(/^__Host-afterfire=.*HttpOnly; Secure; SameSite=Strict/);
    const inside = await s.ask('/api/studio', { cookie: cookieOf(answer) });
    expect(await inside.json()).toEqual({ name: 'the studio' });
    expect((await s.join(code)).status).toBe(422);
    // What is written down lets nobody in.
    expect(JSON.stringify(s.share.book.all())).not.toContain(cookieOf(answer).split('.')[1]);
  });

  test('is put out on the laptop and stays out', async () => {
    const s = stand();
    const cookie = cookieOf(await s.join(await s.open()));
    const [{ id }] = s.share.book.all();
    expect((await s.laptop.request(`/api/share/devices/${id}`, { method: 'DELETE' })).status).toBe(200);
    expect((await s.ask('/api/studio', { cookie })).status).toBe(401);
  });

  test('cannot let others in itself', async () => {
    const s = stand();
    const cookie = cookieOf(await s.join(await s.open()));
    const answer = await s.ask('/api/share/code', { method: 'POST', cookie, from: `https://${HOST}` });
    expect(answer.status).toBe(404);
  });
});

describe('refused', () => {
  test(`a code after five minutes, and after ${FAILS} wrong ones even the right one`, async () => {
    const s = stand();
    const late = await s.open();
    s.wait(CODE_GOOD_FOR_ms);
    expect((await s.join(late)).status).toBe(422);
    const code = await s.open();
    for (let k = 0; k < FAILS; k++) expect((await s.join('BCDF-GHJK')).status).toBe(400);
    expect((await s.join(code)).status).toBe(422);
  });

  test("another site's name pointed at this machine, and a page of another site", async () => {
    const s = stand();
    const code = await s.open();
    expect((await s.ask('/api/studio', { host: 'example.org' })).status).toBe(403);
    expect((await s.join(code, { from: 'https://example.org' })).status).toBe(403);
    expect((await s.ask('/api/join', { method: 'POST', body: '{}' })).status).toBe(403);
    // Neither used the code up.
    expect((await s.join(code)).status).toBe(200);
  });

  test('a made-up way in, of a device that is known', async () => {
    const s = stand();
    const [id] = cookieOf(await s.join(await s.open()))
      .replace('__Host-afterfire=', '')
      .split('.');
    expect((await s.ask('/api/studio', { cookie: `__Host-afterfire=${id}.guess` })).status).toBe(401);
  });
});

test('codes are drawn evenly from their letters (chi-square, 25 degrees of freedom: 75 is passed once in a million)', () => {
  const codes = makeCodes();
  const counts = new Map<string, number>();
  const draws = 2600;
  for (let k = 0; k < draws; k++)
    for (const letter of codes.open(0).code) counts.set(letter, (counts.get(letter) ?? 0) + 1);
  expect(counts.size).toBe(26);
  const expected = (8 * draws) / 26;
  expect([...counts.values()].reduce((sum, n) => sum + (n - expected) ** 2 / expected, 0)).toBeLessThan(75);
});

test('the plain page has the certificate and nothing else', async () => {
  const made = await import('./certificate.ts').then((c) => c.makeCertificate(['192.168.7.20'], Date.now()));
  const site = trustSite(made.authority, 'AA:BB', PLACES.secure, ['192.168.7.20']);
  const get = (path: string, host = '192.168.7.20:4622') =>
    site.request(`http://${host}${path}`, { headers: { host } });
  expect(await (await get('/')).text()).toContain('AA:BB');
  expect((await get('/studio.crt')).headers.get('content-type')).toBe('application/x-x509-ca-cert');
  for (const path of ['/api/studio', '/index.html', '/../package.json'])
    expect((await get(path)).status).toBe(404);
  expect((await get('/', 'example.org')).status).toBe(403);
});
