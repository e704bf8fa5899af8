import { afterAll, beforeAll, expect, test } from 'vitest';
import {
  andLook,
  atRest,
  fieldValue,
  measure,
  middleOf,
  openForm,
  openStand,
  type Stand,
  settle,
} from './page.ts';

let stand: Stand;
beforeAll(async () => {
  stand = await openStand();
});
afterAll(() => stand.close());

test('a point dragged by the mouse moves the line, and the quick look follows', async () => {
  const { page, said } = await stand.visit();
  const handle = page.locator('[data-handle="3"]');
  const [x, y] = await middleOf(handle);
  const widest = await measure(page, 'widest', 'fired');
  await page.mouse.move(x, y);
  await page.mouse.down();
  await settle(page);
  const radius = await fieldValue(page, 'form.line[3].radius_mm');
  await andLook(page, () => page.mouse.move(x + 40, y, { steps: 4 }));
  // Under the hand the look is quick; once the hand rests a finer one takes its place.
  expect(Number(await page.locator('.piece').getAttribute('data-triangles'))).toBeLessThan(1000);
  await atRest(page);
  await page.mouse.up();
  const dragged = await fieldValue(page, 'form.line[3].radius_mm');
  expect(dragged).toBeGreaterThan(radius + 10);
  // The drag snaps to half millimetres, and shrinkage takes a seventh off twice the radius.
  expect(dragged % 0.5).toBe(0);
  await expect.poll(() => measure(page, 'widest', 'fired')).toBeGreaterThan(widest + (dragged - radius));
  await andLook(page, () => page.locator('[data-do="undo"]').click());
  await atRest(page);
  await expect.poll(() => measure(page, 'widest', 'fired')).toBeCloseTo(widest, 3);
  expect(said).toEqual([]);
});

test('arrow keys move the focused point by 0.5 mm, with Shift by 5 mm; undo takes the keys back at once', async () => {
  const { page } = await stand.visit();
  await page.locator('[data-handle="3"]').focus();
  await settle(page);
  const radius = await fieldValue(page, 'form.line[3].radius_mm');
  const height = await fieldValue(page, 'form.line[3].height_mm');
  await page.keyboard.press('ArrowRight');
  await settle(page);
  expect(await fieldValue(page, 'form.line[3].radius_mm')).toBe(radius + 0.5);
  await page.keyboard.press('Shift+ArrowUp');
  await settle(page);
  expect(await fieldValue(page, 'form.line[3].height_mm')).toBe(height + 5);
  await page.keyboard.press('Control+z');
  await settle(page);
  expect(await fieldValue(page, 'form.line[3].radius_mm')).toBe(radius);
  expect(await fieldValue(page, 'form.line[3].height_mm')).toBe(height);
});

test('a finger drags a point too, 18 px beside its middle', async () => {
  const { page } = await stand.visit({ hasTouch: true, viewport: { width: 820, height: 1180 } });
  const handle = page.locator('[data-handle="4"]');
  await handle.scrollIntoViewIfNeeded();
  const [x, y] = await middleOf(handle);
  const touch = await page.context().newCDPSession(page);
  const finger = (type: 'touchStart' | 'touchMove' | 'touchEnd', px: number) =>
    touch.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: type === 'touchEnd' ? [] : [{ x: px, y }],
    });
  await finger('touchStart', x + 18);
  await settle(page);
  const radius = await fieldValue(page, 'form.line[4].radius_mm');
  await andLook(page, async () => {
    await finger('touchMove', x + 30);
    await finger('touchMove', x + 58);
  });
  await finger('touchEnd', x + 58);
  await settle(page);
  expect(await fieldValue(page, 'form.line[4].radius_mm')).toBeGreaterThan(radius + 10);
});

test('the wall is dragged by its own handle, and weighs more for it', async () => {
  const { page } = await stand.visit();
  const handle = page.locator('[data-kind="wall"]').nth(1);
  const weight = await measure(page, 'weight', 'wet', 'g');
  const [x, y] = await middleOf(handle);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await settle(page);
  await andLook(page, () => page.mouse.move(x - 40, y, { steps: 4 }));
  await page.mouse.up();
  await expect.poll(() => measure(page, 'weight', 'wet', 'g')).toBeGreaterThan(weight * 1.05);
});

test('a number typed wrong is answered beside its field, and the last good form stays', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'small-plain-cylinder');
  const height = await measure(page, 'height', 'fired');
  const box = page.locator('[data-field="form.foot.thickness_mm"]');
  for (const [typed, answer] of [
    ['four', /"four" will not do here: a number in mm, such as/],
    ['900', /900 will not do here/],
  ] as const) {
    await box.fill(typed);
    await box.blur();
    await expect.poll(() => page.locator('.ends .fault').textContent()).toMatch(answer);
    expect(await box.getAttribute('aria-invalid')).toBe('true');
  }
  expect(await measure(page, 'height', 'fired')).toBe(height);
  await andLook(page, async () => {
    await box.fill('6,5');
    await box.blur();
  });
  expect(await page.locator('.ends .fault').count()).toBe(0);
  expect(await fieldValue(page, 'form.foot.thickness_mm')).toBe(6.5);
});

test('alterations are cards: added, ordered, edited, taken away', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'small-plain-cylinder');
  await page.locator('#tab-alterations').click();
  await settle(page);
  const kinds = () =>
    page.locator('[data-alteration]').evaluateAll((all) => all.map((e) => e.getAttribute('data-alteration')));
  const before = await kinds();
  await andLook(page, () => page.locator('[data-add="oval"]').click());
  await page.locator('[data-add="cut lip"]').click();
  await settle(page);
  expect(await kinds()).toEqual([...before, 'oval', 'cut lip']);
  await page.getByRole('button', { name: 'Cut lip: do it earlier' }).click();
  await settle(page);
  expect(await kinds()).toEqual([...before, 'cut lip', 'oval']);
  const i = before.length + 1;
  const widest = await measure(page, 'widest', 'wet');
  await andLook(page, async () => {
    await page.locator(`[data-field="form.alterations[${i}].longer_percent"]`).fill('40');
    await page.keyboard.press('Enter');
  });
  await expect.poll(() => measure(page, 'widest', 'wet')).toBeGreaterThan(widest * 1.15);
  await page.getByRole('button', { name: 'Oval: take it away' }).click();
  await settle(page);
  expect(await kinds()).toEqual([...before, 'cut lip']);
});
