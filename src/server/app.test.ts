import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { badInput } from '../error.ts';
import { MAX_TEXT_BYTES } from '../store/read-text.ts';
import type { Studio } from '../store/studio-folder.ts';
import { app } from './app.ts';
import { listen } from './listen.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'afterfire-page-'));
  await mkdir(join(folder, 'page', 'assets'), { recursive: true });
  await writeFile(join(folder, 'page', 'index.html'), '<!doctype html><title>Afterfire</title>');
  await writeFile(join(folder, 'page', 'assets', 'a.js'), 'export {};');
  await writeFile(join(folder, 'secret.txt'), 'not for the page');
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const studio = { studio: { name: 'a test' } } as unknown as Studio;
const site = (source = async () => studio) => app({ page: join(folder, 'page'), studio: source });
const get = (path: string, init?: RequestInit) => site().request(`http://127.0.0.1:4620${path}`, init);

test('the page and its parts are served with their kinds', async () => {
  const page = await get('/');
  expect(page.status).toBe(200);
  expect(page.headers.get('content-type')).toMatch('text/html');
  expect((await get('/assets/a.js')).headers.get('content-type')).toMatch('javascript');
});

test('health, the studio, and what is not there', async () => {
  expect(await (await get('/api/health')).json()).toEqual({ ok: true });
  expect(await (await get('/api/studio')).json()).toEqual(studio);
  const none = await get('/api/none');
  expect(none.status).toBe(404);
  expect(await none.json()).toMatchObject({ error: { code: 'not-found' } });
  expect((await get('/none.html')).status).toBe(404);
});

test.each(['/../secret.txt', '/%2e%2e/secret.txt', '/..%2fsecret.txt', '/assets/..%5c..%5csecret.txt'])(
  'nothing outside the page is served: %s',
  async (path) => {
    const answer = await get(path);
    expect(answer.status).toBe(404);
    expect(await answer.text()).not.toContain('not for the page');
  },
);

test('every answer forbids inline script and isolates the page, so that workers may share memory', async () => {
  for (const path of ['/', '/api/health', '/api/none', '/none.html']) {
    const { headers } = await get(path);
    const policy = headers.get('content-security-policy') ?? '';
    expect(policy).toMatch(/default-src 'none'/);
    expect(policy).toMatch(/script-src 'self' 'wasm-unsafe-eval'(;|$)/);
    expect(policy).not.toMatch(/unsafe-inline|'unsafe-eval'|https?:/);
    // The pair that makes crossOriginIsolated true (HTML standard, "cross-origin isolation").
    expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
    expect(headers.get('cross-origin-embedder-policy')).toBe('require-corp');
    expect(headers.get('x-content-type-options')).toBe('nosniff');
  }
});

test.each(['127.0.0.1:4620', 'localhost:4620', '[::1]:80', 'localhost'])(
  'host %s is this machine',
  async (host) => {
    expect((await get('/api/health', { headers: { host } })).status).toBe(200);
  },
);

test.each(['kiln.example:4620', '127.0.0.1.example', 'localhost.example', '10.0.0.5'])(
  'host %s is refused (a name elsewhere pointed at this machine)',
  async (host) => {
    const answer = await get('/api/studio', { headers: { host } });
    expect(answer.status).toBe(403);
    expect(await answer.text()).not.toContain('a test');
  },
);

test('a body over the limit is refused', async () => {
  const body = 'x'.repeat(MAX_TEXT_BYTES + 1);
  const answer = await get('/api/studio', {
    method: 'POST',
    body,
    headers: { 'content-length': String(body.length) },
  });
  expect(answer.status).toBe(413);
});

test('a bad file in the studio is a 400 that names it', async () => {
  const bad = async () => {
    throw badInput('vase.json: form.height_mm', -1, 'a height above 0');
  };
  const answer = await site(bad).request('http://localhost/api/studio');
  expect(answer.status).toBe(400);
  expect(await answer.json()).toMatchObject({
    error: {
      code: 'bad-input',
      faults: [{ field: 'vase.json: form.height_mm', expected: 'a height above 0' }],
    },
  });
});

test('anything unforeseen is a 500 that tells the page nothing and the terminal all', async () => {
  const said = vi.spyOn(console, 'error').mockImplementation(() => {});
  const broken = async () => {
    throw new Error('an inner matter');
  };
  const answer = await site(broken).request('http://localhost/api/studio');
  expect(answer.status).toBe(500);
  expect(await answer.text()).not.toContain('inner matter');
  expect(String(said.mock.calls[0]?.[0])).toContain('inner matter');
  said.mockRestore();
});

test('the socket is bound to loopback, and a taken port gives way to a free one', async () => {
  const first = await listen(site(), 0);
  const port = Number(new URL(first.address).port);
  const second = await listen(site(), port);
  try {
    expect(new URL(first.address).hostname).toBe('127.0.0.1');
    expect(second.address).not.toBe(first.address);
    expect(await (await fetch(`${second.address}api/health`)).json()).toEqual({ ok: true });
  } finally {
    await first.close();
    await second.close();
  }
});
