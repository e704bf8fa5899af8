import { cp, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import jpeg from 'jpeg-js';
import type { Page } from 'playwright-core';
import { PNG } from 'pngjs';
import { afterAll, afterEach, beforeAll, expect, test } from 'vitest';
import { demoFolder } from '../../src/cli/home.ts';
import type { LearnedEntry, LearningLog } from '../../src/making/learning/learning-log.ts';
import type { Unloading } from '../../src/making/learning/unloading.ts';
import { roundShot } from '../photo-pieces.ts';
import { openStand, type Stand, settle } from './page.ts';

const LOG = 'studio-porcelain.learning.json';

let folder: string;
let own: Stand;
let bare: Stand;
let demo: Stand;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'afterfire-learning-'));
  await cp(demoFolder(), join(folder, 'own'), { recursive: true });
  await cp(demoFolder(), join(folder, 'bare'), { recursive: true });
  for (const file of await readdir(join(folder, 'bare')))
    if (/\.(unloading|learning)\.json$/.test(file)) await rm(join(folder, 'bare', file));
  [own, bare, demo] = [
    await openStand(join(folder, 'own')),
    await openStand(join(folder, 'bare')),
    await openStand(),
  ];
});
afterAll(async () => {
  for (const stand of [own, bare, demo]) await stand.close();
  await rm(folder, { recursive: true });
});

/** Pages of a test end with it: their workers would go on foreseeing. */
const open: Page[] = [];
const visit = async (...[stand, options]: [Stand, Parameters<Stand['visit']>[0]?]) => {
  const visited = await stand.visit(options);
  open.push(visited.page);
  return visited;
};
afterEach(async () => {
  for (const page of open.splice(0)) await page.context().close();
});

const json = async <T>(file: string): Promise<T> =>
  JSON.parse(await readFile(join(folder, 'own', file), 'utf8'));

const goTo = async (page: Page, room: string): Promise<void> => {
  await page.evaluate((to) => {
    (globalThis as unknown as { location: { hash: string } }).location.hash = to;
  }, room);
  await page.locator(`main.${room.split('/')[0]}`).waitFor();
  await settle(page);
};

/** Taps a number on the pad of the page. */
const tapIn = async (page: Page, field: string, number: string): Promise<void> => {
  await page.locator(`[data-field="measure.${field}"]`).click();
  for (const key of number) await page.locator(`.number-pad [data-key="${key}"]`).click();
};

const foretold = (page: Page, field: string) => page.locator(`[data-foretold="${field}"]`);

test('how right were we: what the page counts is what the log holds, counted here by hand', async () => {
  const { page, said } = await visit(demo);
  const log = JSON.parse(await readFile(join(demoFolder(), LOG), 'utf8')) as LearningLog;
  const all = log.entries.flatMap((e) => (e as LearnedEntry).predictions);
  const inside = all.filter((p) => p.before.low_mm <= p.measured_mm && p.measured_mm <= p.before.high_mm);
  await goTo(page, 'right');
  const text = await page.locator('[data-said="coverage"]').textContent();
  expect(text).toContain(`${inside.length} of ${all.length} measures`);
  expect(await page.locator('.invented').textContent()).toMatch(/^Invented/);
  const moved = await page.locator('.diagonal .mark').count();
  await page.locator('#tab-size').click();
  await settle(page);
  expect(moved + (await page.locator('.diagonal .mark').count())).toBe(all.length);
  expect(await page.locator('.right-list tbody tr').count()).toBe(all.length);
  expect(said).toEqual([]);
});

test('a piece of the list leads to its unloading, with what was predicted before it was learned from', async () => {
  const { page, said } = await visit(demo);
  await goTo(page, 'right');
  await page.locator('[data-piece-link="102"]').click();
  await page.locator('main.unloading').waitFor();
  await settle(page);
  expect(await page.locator('[data-piece="102"]').getAttribute('aria-pressed')).toBe('true');
  const unloading = JSON.parse(
    await readFile(join(demoFolder(), '2026-03-14-front.unloading.json'), 'utf8'),
  ) as Unloading;
  const height = unloading.pieces[1].measured?.height_mm;
  expect(await page.locator('output[data-field="measure.height"]').textContent()).toBe(`${height} mm`);
  await foretold(page, 'height').waitFor();
  expect(await foretold(page, 'height').textContent()).toMatch(
    /predicted .*measured .*expected|than four in five/,
  );
  expect(said).toEqual([]);
});

test('a studio that measured nothing yet is told what to do, in a sentence', async () => {
  const { page, said } = await visit(bare);
  await goTo(page, 'right');
  expect(await page.locator('.nothing-yet').textContent()).toMatch(/Measure a few pieces/);
  await page.locator('.nothing-yet a').click();
  await page.locator('main.unloading').waitFor();
  expect(await page.locator('[data-do="learn"]').isDisabled()).toBe(true);
  expect(said).toEqual([]);
});

test('measured with the pad, kept and learned from; taken back with one tap and counted again', async () => {
  const { page, said } = await visit(own);
  await goTo(page, 'unloading');
  await page.locator('[data-tile="small-plain-cylinder"]').click();
  await page.locator('[data-field="piece.setting"] [data-tile="on its side"]').click();
  await foretold(page, 'height').waitFor({ timeout: 60_000 });
  const before = (await json<LearningLog>(LOG)).entries.length;
  await tapIn(page, 'height', '86.5');
  expect(await foretold(page, 'height').textContent()).toMatch(/predicted [\d.]+ ± .*measured 86\.5: /);
  await tapIn(page, 'lip greatest', '92');
  await page.locator('[data-do="learn"]').click();
  await page.locator('[data-said="learned"]').waitFor({ timeout: 60_000 });
  const files = (await readdir(join(folder, 'own'))).filter((f) => f.endsWith('.unloading.json'));
  const kept = await json<Unloading>(files.at(-1) as string);
  expect(kept.pieces).toMatchObject([
    {
      form: 'small-plain-cylinder.form.json',
      setting: { attitude: 'on its side' },
      measured: { height_mm: 86.5, lipWidth: { greatest_mm: 92 } },
    },
  ]);
  const log = await json<LearningLog>(LOG);
  expect(log.entries.length).toBe(before + 1);
  const { id } = log.entries.at(-1) as LearnedEntry;
  const row = page.locator(`[data-entry="${id}"]`);
  await row.locator('[data-do="take-back"]').click();
  await page.waitForFunction(
    (entry) => {
      const { document } = globalThis as unknown as {
        document: { querySelector: (s: string) => { dataset: { stands?: string } } | null };
      };
      return document.querySelector(`[data-entry="${entry}"]`)?.dataset.stands === 'false';
    },
    id,
    { timeout: 60_000 },
  );
  expect(await row.locator('s').count()).toBe(1);
  await row.locator('[data-do="count-again"]').click();
  await row.locator('[data-do="take-back"]').waitFor({ timeout: 60_000 });
  await expect
    .poll(async () => (await json<LearningLog>(LOG)).entries.map((e) => e.kind).slice(-3))
    .toEqual(['unloading', 'taken back', 'taken back']);
  expect(said).toEqual([]);
});

test('in inches: what is typed is the same length (1 in = 25.4 mm, exact); what is no length is said beside it', async () => {
  const { page } = await visit(demo);
  await goTo(page, 'unloading');
  await page.getByRole('button', { name: /change to inches/ }).click();
  await settle(page);
  const field = page.locator('[data-field="measure.height"]');
  await field.fill('4');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: /change to mm/ }).click();
  await settle(page);
  expect(await field.inputValue()).toBe('101.6');
  await field.fill('tall');
  await settle(page);
  expect(await page.locator('.measure .fault').textContent()).toContain('a number in mm');
  await field.fill('101.6');
  await page.reload();
  await goTo(page, 'unloading');
  expect(await field.inputValue()).toBe('101.6');
});

test('a photograph: the outline is found to half a millimetre, pulled, unpulled and taken', async () => {
  // The truth is the formula the picture was made from (test/photo-pieces.ts), the camera as far off as it stood.
  const shot = roundShot(3, { pxPerMm: 5, width_mm: 310, height_mm: 190 });
  const { width, height, data } = shot.picture;
  const png = Object.assign(new PNG({ width, height }), { data: Buffer.from(data) });
  const { page, said } = await visit(demo);
  await goTo(page, 'unloading');
  await page.locator('[data-tile="small-plain-cylinder"]').click();
  await page.locator('[data-do="photo"]').click();
  await page
    .locator('[data-field="photo"]')
    .setInputFiles({ name: 'piece.png', mimeType: 'image/png', buffer: PNG.sync.write(png) });
  await page.locator('path.found').waitFor({ timeout: 60_000 });
  await page.locator('[data-field="photo.distance"]').fill(String(1000 * shot.eye.at[2]));
  await page.locator('[data-field="photo.distance"]').blur();
  expect(await page.locator('.photo-desk .fault').count()).toBe(0);
  const line = page.locator('path.found');
  const found = await line.getAttribute('d');
  await page.locator('[data-pull="2"]').focus();
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => line.getAttribute('d')).not.toBe(found);
  await page.locator('[data-do="unpull"]').click();
  await expect.poll(() => line.getAttribute('d')).toBe(found);
  await page.locator('[data-do="take-outline"]:enabled').click({ timeout: 60_000 });
  await page.locator('[data-said="outline-taken"]').waitFor();
  const top_mm = 1000 * Math.max(...shot.truth.filter((_, i) => i % 2 === 1));
  const read = Number(await page.locator('[data-field="measure.height"]').getAttribute('placeholder'));
  expect(Math.abs(read - top_mm)).toBeLessThan(0.5);
  expect(said).toEqual([]);
});

/** The note of a camera held on its side: orientation 6, "turn clockwise to see it upright" (CIPA DC-008, tag 0x0112). */
const heldOnItsSide = (picture: Buffer): Buffer => {
  const tiff = Buffer.from('49492a00080000000100120103000100000006000000000000000000', 'hex');
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
  const head = Buffer.from([0xff, 0xe1, 0, body.length + 2]);
  return Buffer.concat([picture.subarray(0, 2), head, body, picture.subarray(2)]);
};

test('a picture held on its side is turned upright; one without a scale card is told so, and stays open', async () => {
  const [width, height] = [320, 200];
  const plain = jpeg.encode({ width, height, data: Buffer.alloc(4 * width * height, 120) }, 90).data;
  const { page } = await visit(demo);
  await goTo(page, 'unloading');
  await page.locator('[data-do="photo"]').click();
  await page
    .locator('[data-field="photo"]')
    .setInputFiles({ name: 'turned.jpg', mimeType: 'image/jpeg', buffer: heldOnItsSide(plain) });
  await page.locator('[data-photo-trouble="no-scale"]').waitFor({ timeout: 60_000 });
  const box = await page.locator('.photo-picture canvas').evaluate((c) => {
    const canvas = c as unknown as { width: number; height: number };
    return [canvas.width, canvas.height];
  });
  expect(box).toEqual([height, width]);
  await page
    .locator('[data-field="photo"]')
    .setInputFiles({ name: 'notes.txt', mimeType: 'text/plain', buffer: Buffer.from('no picture') });
  await page.getByText('cannot read it as a picture').waitFor();
});

test.each(['unloading', 'right'])(
  'page %s: nothing to press is smaller than a finger (44 px)',
  async (room) => {
    const { page } = await visit(demo, { viewport: { width: 820, height: 1180 } });
    await goTo(page, room);
    const small = await page
      .locator('main :is(button, select, input:not(.unseen), summary, a)')
      .evaluateAll((all) =>
        (
          all as unknown as {
            getBoundingClientRect: () => { height: number; width: number };
            outerHTML: string;
          }[]
        )
          .filter((e) => {
            const { width, height } = e.getBoundingClientRect();
            return width > 0 && Math.min(width, height) < 43.5;
          })
          .map((e) => e.outerHTML.slice(0, 120)),
      );
    expect(small).toEqual([]);
  },
);
