import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { andLook, atRest, measure, openForm, openStand, type Stand, settle } from './page.ts';

/** A busy machine may take a while over a finer look. */
const SOON = { timeout: 30_000 };

let stand: Stand;
beforeAll(async () => {
  stand = await openStand();
});
afterAll(() => stand.close());

const type = async (page: Page, field: string, text: string): Promise<void> => {
  await page.locator(`[data-field="${field}"]`).fill(text);
  await page.keyboard.press('Enter');
  await settle(page);
};

test('leaning on nothing says what helps, and the piece is red; a wall helps', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'tall-fluted-vase');
  await page.locator('[data-setting="leaning"]').click();
  await page.locator('#tab-setting').click();
  await settle(page);
  // Leaning begins with a wall, since without something to lean on there is no leaning.
  expect(
    await page.locator('[data-prop]').evaluateAll((all) => all.map((e) => e.getAttribute('data-prop'))),
  ).toEqual(['wall']);
  await page.getByRole('button', { name: 'Prop 1, Wall: take it away' }).click();
  await expect
    .poll(() => page.locator('.verdict').textContent(), SOON)
    .toMatch(/What it stands on: nothing; right would be something to lean on: a wall/);
  await expect.poll(() => page.locator('.piece').getAttribute('data-red'), SOON).toBe('piece');
  await page.locator('[data-add="wall"]').click();
  await expect.poll(() => page.locator('.piece').getAttribute('data-red'), SOON).toBe('');
});

test('a prop that pierces the piece is red, told in its card, and mended by its own box', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'small-plain-cylinder');
  await page.locator('#tab-setting').click();
  await andLook(page, () => page.locator('[data-add="wall"]').click());
  await andLook(page, () => page.locator('[data-add="wall"]').click());
  await type(page, 'setting.props[1].towards_deg', '180');
  await type(page, 'setting.props[0].away_mm', '20');
  // The cylinder is some 80 mm wide: 40 mm between two walls is too little.
  await type(page, 'setting.props[1].away_mm', '20');
  await expect.poll(() => page.locator('.card.bad').first().getAttribute('data-prop'), SOON).toBe('wall');
  expect(await page.locator('.card.bad .fault').first().textContent()).toMatch(
    /Prop \d \(wall\): .* mm deep in the piece/,
  );
  expect(await page.locator('.piece').getAttribute('data-red')).toMatch(/\d/);
  await type(page, 'setting.props[1].away_mm', '90');
  await expect.poll(() => page.locator('.piece').getAttribute('data-red'), SOON).toBe('');
  expect(await page.locator('.card.bad').count()).toBe(0);
});

test('a setting is saved as a file that says which it is', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'pierced-fluted-vase');
  await page.locator('#tab-setting').click();
  const coming = page.waitForEvent('download');
  await page.locator('[data-do="save-setting"]').click();
  const file = await coming;
  expect(file.suggestedFilename()).toBe('pierced-fluted-vase.setting.json');
  const saved = JSON.parse(await readFile(await file.path(), 'utf8'));
  expect(saved).toMatchObject({ afterfire: 'setting/1', attitude: 'on its side' });
  expect(saved.props.map((p: { kind: string }) => p.kind)).toEqual(['saddle', 'saddle']);
});

test('props of one attitude are kept for it, and the others stand without them', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'pierced-fluted-vase');
  await page.locator('#tab-setting').click();
  const props = () => page.locator('[data-prop]').count();
  await expect.poll(props, SOON).toBe(2);
  await page.locator('[data-setting="upright"]').click();
  await expect.poll(props, SOON).toBe(0);
  await page.locator('[data-setting="on its side"]').click();
  await expect.poll(props, SOON).toBe(2);
});

test('after a full firing: the same without its lobes, sag against sag, and both in the hand', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'lobed-tube');
  await page.locator('[data-setting="upright"]').click();
  await atRest(page);
  await page.locator('[data-field="triangles"]').selectOption('800');
  await page.locator('[data-do="fire"]').click();
  await page.locator('.full-run[data-shown="full"]').waitFor({ timeout: 120_000 });
  await page.locator('[data-do="compare"]').click();
  await page.locator('.beside').waitFor({ timeout: 120_000 });
  expect(await page.locator('[data-beside-said]').textContent()).toMatch(/plain twin/);
  expect(await page.locator('[data-beside="sag"] td').count()).toBe(2);
  // The clay is some fifteen times as stiff fired as bone dry: so is the lip.
  const squeezed = async (state: string) =>
    Number(await page.locator(`[data-hand="${state}"] td`).first().textContent());
  expect((await squeezed('fired')) / (await squeezed('dry'))).toBeGreaterThan(5);
  expect(await measure(page, 'height', 'fired')).toBeGreaterThan(0);
});
