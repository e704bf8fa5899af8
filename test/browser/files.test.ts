import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoFolder } from '../../src/cli/home.ts';
import { andLook, fieldValue, measure, openForm, openStand, type Stand, settle, untilFilm } from './page.ts';

let stand: Stand;
let form: Record<string, unknown>;
beforeAll(async () => {
  stand = await openStand();
  form = JSON.parse(await readFile(join(demoFolder(), 'small-plain-cylinder.form.json'), 'utf8')) as Record<
    string,
    unknown
  >;
});
afterAll(() => stand.close());

const give = (page: Page, text: string | Buffer, name = 'mine.form.json'): Promise<void> =>
  page
    .getByLabel('Open a form file or a setting file')
    .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });

test.each([
  ['not JSON', () => '{ "afterfire": ', /mine\.form\.json.*a form in JSON/s],
  [
    'an unknown field',
    () => JSON.stringify({ ...form, colour: 'blue' }),
    /form\.colour.*no field of this name/s,
  ],
  [
    'a field without its unit',
    () => JSON.stringify({ ...form, foot: { kind: 'disc', thickness: 4 } }),
    /form\.foot\.thickness.*thickness_mm/s,
  ],
  [
    'a wall thicker than the radius',
    () => JSON.stringify({ ...form, wall: [{ along: 0, thickness_mm: 60 }] }),
    /form\.wall/,
  ],
  [
    'no number',
    () => JSON.stringify({ ...form, wall: [{ along: 0, thickness_mm: null }] }),
    /form\.wall\[0\]\.thickness_mm: got null/,
  ],
  ['a file far too large', () => Buffer.alloc(2_000_000, 32), /2\.0 MB; a form file is at most 1 MB/],
])('a bad file is answered and the form on the bench stays: %s', async (_, text, answer) => {
  const { page } = await stand.visit();
  const height = await measure(page, 'height', 'fired');
  await give(page, text());
  const said = page.locator('.not-opened');
  await said.waitFor();
  expect(await said.textContent()).toMatch(answer);
  expect(await measure(page, 'height', 'fired')).toBe(height);
  await said.getByRole('button', { name: 'Close' }).click();
  await settle(page);
  expect(await said.count()).toBe(0);
});

test('a good file is opened, saved as it was, and can be undone', async () => {
  const { page } = await stand.visit();
  await andLook(page, () => give(page, JSON.stringify({ ...form, name: 'From my disk' })));
  expect(await page.locator('[data-field="form"]').locator('option:checked').textContent()).toBe(
    'From my disk',
  );
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save form' }).click();
  const file = await coming;
  expect(file.suggestedFilename()).toBe('from-my-disk.form.json');
  const saved = JSON.parse(await readFile(await file.path(), 'utf8')) as Record<string, unknown>;
  expect(saved).toMatchObject({ ...form, name: 'From my disk' });
  await andLook(page, () => page.locator('[data-do="undo"]').click());
});

test('the last good work is there again after a reload', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'lobed-tube');
  await page.locator('[data-handle="1"]').focus();
  await settle(page);
  await andLook(page, () => page.keyboard.press('Shift+ArrowRight'));
  const radius = await fieldValue(page, 'form.line[1].radius_mm');
  // The draft is kept once the hand has rested for a moment.
  await page.waitForFunction((r) => {
    const { localStorage } = globalThis as unknown as {
      localStorage: { getItem: (k: string) => string | null };
    };
    return (localStorage.getItem('afterfire/draft/1') ?? '').includes(`"radius_mm":${r}`);
  }, radius);
  await page.reload();
  await untilFilm(page, 0);
  await page.locator('[data-handle="1"]').focus();
  await settle(page);
  expect(await fieldValue(page, 'form.line[1].radius_mm')).toBe(radius);
});

test('a browser that keeps nothing, and a spoilt draft, are no obstacle', async () => {
  const { page, said } = await stand.visit();
  await page.evaluate(() => {
    const { localStorage } = globalThis as unknown as {
      localStorage: { setItem: (k: string, v: string) => void };
    };
    localStorage.setItem('afterfire/draft/1', '{"form":{"afterfire":"form/0"}}');
  });
  await page.reload();
  await untilFilm(page, 0);
  const { page: private_ } = await stand.visit();
  await private_.addInitScript(() => {
    Object.defineProperty(globalThis, 'localStorage', {
      get: () => {
        throw new Error('storage is off');
      },
    });
  });
  await private_.reload();
  await untilFilm(private_, 0);
  expect(said).toEqual([]);
});
