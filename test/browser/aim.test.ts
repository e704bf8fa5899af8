import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoFolder } from '../../src/cli/home.ts';
import { openForm, openStand, type Stand, settle } from './page.ts';

/** The way back on the page: what is wanted, what to make, what hands can make of it, and which way is best. */
let stand: Stand;
beforeAll(async () => {
  stand = await openStand();
});
afterAll(() => stand.close());

const LONG = { timeout: 150_000 };

const demoFile = async (name: string): Promise<Record<string, unknown>> =>
  JSON.parse(await readFile(join(demoFolder(), name), 'utf8')) as Record<string, unknown>;

const atAim = async (form: string, width = 1280, height = 800) => {
  const { page, said } = await stand.visit({ viewport: { width, height } });
  await openForm(page, form);
  await page.goto(`${stand.address}#aim`);
  await page.locator('[data-do="aim"]').waitFor();
  return { page, said };
};

const found = async (page: Page): Promise<string> => {
  await page.locator('[data-do="aim"]').click();
  const verdict = page.locator('[data-verdict]');
  await verdict.waitFor(LONG);
  return (await verdict.getAttribute('data-verdict')) ?? '';
};

/** How high and wide a path of the drawing reaches, mm. */
const reach = (page: Page, cls: string): Promise<{ high: number; wide: number }> =>
  page.locator(`.aim-drawing > svg > path.${cls}`).evaluate((path) => {
    const box = (path as unknown as { getBBox(): { width: number; height: number } }).getBBox();
    return { high: box.height, wide: box.width };
  });

test('upright: found, drawn over one another at one scale, made by hand, put on the bench and taken back', async () => {
  const { page, said } = await atAim('small-plain-cylinder');
  const name = await page.locator('.wish h2').textContent();
  expect(await found(page)).toBe('reached');
  expect(await page.locator('.aim-drawing').getAttribute('data-shows')).toBe('wanted green fired');
  // The demo clay shrinks by 9.1 % in the fire: what is to be made is larger by 1/0.909, sag apart.
  const [wanted, green, fired] = await Promise.all(['wanted', 'green', 'fired'].map((c) => reach(page, c)));
  expect(green!.high / wanted!.high).toBeGreaterThan(1.09);
  expect(green!.high / wanted!.high).toBeLessThan(1.12);
  expect(Math.abs(fired!.high - wanted!.high)).toBeLessThan(0.1);
  // The bar of issue 4, upright: 0.1 mm.
  expect(Number(await page.locator('.difference').getAttribute('data-most-mm'))).toBeLessThan(0.1);
  expect(await page.locator('.passes').textContent()).toMatch(/mm$/);

  await page.locator('[data-do="make"]').click();
  await page.locator('.made').waitFor(LONG);
  expect(await page.locator('[data-within]').textContent()).toMatch(/at most .* mm/);
  // Radius of the foot, radius and height of each point above it, and the wall at each of its places.
  const form = (await demoFile('small-plain-cylinder.form.json')) as Record<'line' | 'wall', unknown[]>;
  expect(await page.locator('.changes tbody tr').count()).toBe(2 * form.line.length - 1 + form.wall.length);
  await page.locator('[data-do="to-bench"]').click();
  await settle(page);
  const bench = page.locator('[data-field="form"] option:checked');
  expect(await bench.textContent()).toMatch(/, to make$/);
  // Nothing is lost: what was wanted is one step back, and what was found for it still stands.
  expect(await page.locator('.moved-on').count()).toBe(1);
  await page.locator('[data-do="undo"]').click();
  await settle(page);
  expect(await page.locator('.wish h2').textContent()).toBe(name);
  expect(await page.locator('.moved-on').count()).toBe(0);
  expect(said).toEqual([]);
});

test('in inches, on its side, on a tablet: lengths of sentences and tables follow', async () => {
  const { page } = await atAim('lobed-tube', 820, 1180);
  await page.getByRole('button', { name: 'Lengths in mm; change to inches' }).click();
  expect(await found(page)).toMatch(/^reached/);
  expect(await page.locator('.passes').textContent()).toMatch(/ in$/);
  expect(await page.locator('.aim-verdict').textContent()).not.toMatch(/\d mm\b/);
  const wide = await page.evaluate(() => {
    const { document } = globalThis as unknown as { document: { documentElement: { scrollWidth: number } } };
    return document.documentElement.scrollWidth;
  });
  expect(wide).toBeLessThanOrEqual(820);
});

test('a long search is stopped at once, and the page is as it was', async () => {
  const { page } = await atAim('small-plain-cylinder');
  await page.locator('[data-field="aim-triangles"]').selectOption('6000');
  await page.locator('[data-do="aim"]').click();
  await page.locator('[data-do="stop-aim"]').click();
  await page.locator('[data-do="aim"]').waitFor({ timeout: 5000 });
  expect(await page.locator('.aim-verdict').count()).toBe(0);
  expect(await page.locator('.aim-drawing').getAttribute('data-shows')).toBe('wanted');
});

test('the settings side by side: each with what remains or why not, the best with its reason, taken by a tap', async () => {
  const { page } = await atAim('small-plain-cylinder');
  await page.locator('[data-do="settings"]').click();
  await page.locator('.ways-tried').waitFor(LONG);
  expect(await page.locator('[data-way]').count()).toBe(3);
  expect(await page.locator('[data-best="true"]').count()).toBe(1);
  expect(await page.locator('.best-way .said').textContent()).toMatch(/four clays in five/);
  const other = page.locator('[data-way]', { has: page.locator('[data-do="set-so"]:enabled') }).first();
  const way = await other.getAttribute('data-way');
  await other.locator('[data-do="set-so"]').click();
  await settle(page);
  expect(await page.locator('.wish').textContent()).toContain(`Set ${way}`);
  expect(await page.locator('.ways-tried').count()).toBe(1);
});

test('a wanted form no green piece leads to: said plainly, with the nearest thing that works', async () => {
  const { page } = await stand.visit();
  const cylinder = await demoFile('small-plain-cylinder.form.json');
  const clay = await demoFile('studio-porcelain.clay.json');
  const sag = clay.sagViscosity as Record<string, unknown>;
  const dish = {
    ...cylinder,
    name: 'A great thin dish',
    sizes: 'fired',
    line: [
      { radius_mm: 40, height_mm: 0 },
      { radius_mm: 150, height_mm: 20 },
      { radius_mm: 250, height_mm: 45 },
    ],
    wall: [{ along: 0, thickness_mm: 2 }],
    foot: { kind: 'ring', thickness_mm: 2, width_mm: 6, recess_mm: 3 },
    alterations: [],
    carving: [],
  };
  const draft = {
    form: dish,
    clay: 'A clay far too soft',
    ownClay: {
      ...clay,
      name: 'A clay far too soft',
      sagViscosity: { ...sag, value_Pa_s: (sag.value_Pa_s as number) / 8 },
    },
    schedule: await demoFile('cone-10-slow.schedule.json'),
    setting: { attitude: 'upright', turn_deg: 0, shelf: 'slides', lean_deg: 0, props: [] },
  };
  await page.evaluate((text) => {
    const { localStorage } = globalThis as unknown as {
      localStorage: { setItem(k: string, v: string): void };
    };
    localStorage.setItem('afterfire/draft/1', text);
  }, JSON.stringify(draft));
  await page.goto(`${stand.address}#aim`);
  await page.reload();
  await page.locator('.wish', { hasText: 'A great thin dish' }).waitFor();
  expect(await found(page)).toBe('falls');
  const verdict = await page.locator('[data-verdict]').textContent();
  expect(verdict).toMatch(/^No green piece comes out as this/);
  expect(verdict).toMatch(/Nearest that works|Not even .* give it a thicker wall/);
  expect(await page.locator('.make-it').count()).toBe(0);
  expect(await page.locator('.wish').textContent()).toContain('A clay far too soft');
});
