import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoFolder } from '../../src/cli/home.ts';
import { andLook, atRest, measure, openForm, openStand, type Stand, settle } from './page.ts';

/** A busy machine may take a while over a finer look. */
const SOON = { timeout: 30_000 };

let stand: Stand;
beforeAll(async () => {
  stand = await openStand();
});
afterAll(() => stand.close());

const piece = (page: Page, attribute: string): Promise<string | null> =>
  page.locator('.piece').getAttribute(attribute);

const type = async (page: Page, field: string, text: string): Promise<void> => {
  await page.locator(`[data-field="${field}"]`).fill(text);
  await page.keyboard.press('Enter');
  await settle(page);
};

test('a carving added is drawn on the piece, takes clay away, and follows its boxes', async () => {
  const { page, said } = await stand.visit();
  await openForm(page, 'small-plain-cylinder');
  const weight = await measure(page, 'weight', 'dry', 'g');
  await page.locator('#tab-carving').click();
  await andLook(page, () => page.locator('[data-add="opening"]').click());
  // Six leaves, each with an outline of its own.
  await expect.poll(() => piece(page, 'data-outlines'), SOON).toBe('6');
  expect(await piece(page, 'data-bad-outlines')).toBe('0');
  await expect.poll(() => measure(page, 'weight', 'dry', 'g'), SOON).toBeLessThan(weight);
  await andLook(page, () => type(page, 'form.carving[0].count', '8'));
  await expect.poll(() => piece(page, 'data-outlines'), SOON).toBe('8');
  await andLook(page, () => page.locator('[data-motif="round"]').click());
  expect(await page.locator('[data-motif="round"]').getAttribute('aria-pressed')).toBe('true');
  await andLook(page, () => page.getByRole('button', { name: 'Carving 1: take it away' }).click());
  await expect.poll(() => piece(page, 'data-outlines'), SOON).toBe('0');
  expect(said).toEqual([]);
});

test('outlines no clay could hold are red, told in their card, and the last sound piece stays', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'small-plain-cylinder');
  await page.locator('#tab-carving').click();
  await andLook(page, () => page.locator('[data-add="opening"]').click());
  await atRest(page);
  const height = await measure(page, 'height', 'fired');
  await type(page, 'form.carving[0].count', '60');
  await expect.poll(() => piece(page, 'data-bad-outlines').then(Number), SOON).toBeGreaterThan(0);
  const card = page.locator('[data-carving]');
  expect(await card.getAttribute('class')).toContain('bad');
  expect(await card.locator('.fault').textContent()).toMatch(/openings that cut the pot in two.*falls off/is);
  // What was asked for stays in its box, what was sound stays in the fire.
  expect(await page.locator('[data-field="form.carving[0].count"]').inputValue()).toBe('60');
  expect(await measure(page, 'height', 'fired')).toBe(height);
  // Another box mends it, without the first being typed again.
  await andLook(page, () => type(page, 'form.carving[0].width_mm', '1.2'));
  await expect.poll(() => piece(page, 'data-bad-outlines'), SOON).toBe('0');
  expect(await page.locator('[data-field="form.carving[0].count"]').inputValue()).toBe('60');
  expect(await card.getAttribute('class')).not.toContain('bad');
});

test('going back leaves the last that holds; an outline of its own that crosses itself is told where', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'small-plain-cylinder');
  await page.locator('#tab-carving').click();
  await andLook(page, () => page.locator('[data-add="relief"]').click());
  await andLook(page, () => page.locator('[data-motif="own"]').click());
  await page.locator('[data-field="path"]').fill('M0 0 L10 10 L10 0 L0 10 Z');
  await page.locator('[data-field="path"]').blur();
  await expect.poll(() => page.locator('[data-carving] .fault').textContent(), SOON).toMatch(/do not cross/);
  await page.locator('[data-do="drop-trial"]').click();
  await settle(page);
  expect(await page.locator('[data-carving] .fault').count()).toBe(0);
  expect(await page.locator('[data-field="path"]').inputValue()).toMatch(/^M0 10 Q/);
});

test('a reading of the callipers off the wall is named, red, and lost with nothing', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'small-plain-cylinder');
  await page.locator('#tab-wall').click();
  await andLook(page, () => page.locator('[data-add="reading"]').click());
  const thickness = await page.locator('[data-field="form.uneven.callipers[0].thickness_mm"]').inputValue();
  await type(page, 'form.uneven.callipers[0].along', '0');
  await expect
    .poll(() => page.locator('.readings .fault').textContent(), SOON)
    .toMatch(/below that is the floor/);
  expect(await page.locator('[data-reading="0"]').getAttribute('class')).toBe('bad');
  await expect.poll(() => piece(page, 'data-bad-outlines'), SOON).toBe('1');
  await andLook(page, () => type(page, 'form.uneven.callipers[0].along', '60'));
  expect(await page.locator('.readings .fault').count()).toBe(0);
  expect(await page.locator('[data-field="form.uneven.callipers[0].thickness_mm"]').inputValue()).toBe(
    thickness,
  );
});

test('the pierced vase and its setting, opened as files, fire on two saddles to a verdict with bands', async () => {
  const { page, said } = await stand.visit();
  const give = (name: string) =>
    page.getByLabel('Open a form file or a setting file').setInputFiles(join(demoFolder(), name));
  await andLook(page, () => give('pierced-fluted-vase.form.json'));
  await andLook(page, () => give('on-two-saddles.setting.json'));
  expect(await page.locator('[data-setting="on its side"]').getAttribute('aria-pressed')).toBe('true');
  await page.locator('[data-field="triangles"]').selectOption('2000');
  await page.locator('[data-do="fire"]').click();
  await page.locator('.full-run[data-shown="full"]').waitFor({ timeout: 170_000 });
  expect(await page.locator('[data-verdict]').textContent()).toMatch(/drops .* mm beyond shrinkage/);
  expect(await page.locator('.section').getAttribute('data-band')).toBe('shown');
  expect(await page.locator('.section .band path').count()).toBeGreaterThan(1);
  // The wall is pierced in the mesh fired, so its cut is in pieces.
  const cuts = await page.locator('.section .now').getAttribute('d');
  expect(cuts!.split('M').length - 1).toBeGreaterThan(2);
  await page.locator('[data-sure="greatest-sag"]').click();
  await settle(page);
  expect(await page.locator('.made-of').textContent()).toMatch(
    /Clay and kiln alone: .*The calculation alone: ±/,
  );
  const form = JSON.parse(await readFile(join(demoFolder(), 'pierced-fluted-vase.form.json'), 'utf8'));
  expect(form.carving.length).toBe(3);
  expect(said).toEqual([]);
});
