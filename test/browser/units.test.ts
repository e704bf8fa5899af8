import { afterAll, beforeAll, expect, test } from 'vitest';
import { andLook, atRest, fieldValue, measure, openForm, openStand, type Stand, settle } from './page.ts';

let stand: Stand;
beforeAll(async () => {
  stand = await openStand();
});
afterAll(() => stand.close());

test('in inches: measures, handles and boxes; what is typed reaches the form in mm (1 in = 25.4 mm, exact)', async () => {
  const { page, said } = await stand.visit();
  await openForm(page, 'small-plain-cylinder');
  const height = await measure(page, 'height', 'wet');
  await page.getByRole('button', { name: /change to inches/ }).click();
  await settle(page);
  const cell = page.locator('[data-measure="height"][data-stage="wet"]');
  expect(Number(await cell.textContent())).toBeCloseTo(height / 25.4, 2);
  expect(await measure(page, 'height', 'wet')).toBe(height);
  await page.locator('[data-handle="1"]').focus();
  await settle(page);
  const box = page.locator('[data-field="form.line[1].radius_mm"]');
  await andLook(page, async () => {
    await box.fill('1.5');
    await box.blur();
  });
  expect(await fieldValue(page, 'form.line[1].radius_mm')).toBe(1.5);
  await page.getByRole('button', { name: /change to mm/ }).click();
  await settle(page);
  expect(await fieldValue(page, 'form.line[1].radius_mm')).toBe(38.1);
  expect(said).toEqual([]);
});

test('both switches are as they were left when one comes back', async () => {
  const { page } = await stand.visit();
  await page.getByRole('button', { name: /change to inches/ }).click();
  await page.getByRole('button', { name: /change to °F/ }).click();
  await page.reload();
  await page.getByRole('button', { name: /change to mm/ }).waitFor();
  await page.getByRole('button', { name: /change to °C/ }).waitFor();
});

test('in °F: the boxes of a schedule written in °C show °F, and a peak typed in °F heats the same', async () => {
  const { page } = await stand.visit();
  await page.locator('#tab-schedule').click();
  await settle(page);
  const peak = page.locator('[data-field="schedule.segments[3].to_C"]');
  const peak_C = Number(await peak.inputValue());
  await page.getByRole('button', { name: /change to °F/ }).click();
  await settle(page);
  expect(Number(await peak.inputValue())).toBeCloseTo(1.8 * peak_C + 32, 1);
  await andLook(page, async () => {
    await peak.fill('2300');
    await peak.blur();
  });
  await page.getByRole('button', { name: /change to °C/ }).click();
  await settle(page);
  expect(Number(await peak.inputValue())).toBeCloseTo(1260, 6);
});

test('the tabs are one stop, and the arrow keys go between them (W3C ARIA Authoring Practices Guide)', async () => {
  const { page } = await stand.visit();
  expect(await page.locator('[role="tab"][tabindex="0"]').count()).toBe(1);
  await page.locator('#tab-line').focus();
  for (const [key, tab] of [
    ['ArrowRight', 'wall'],
    ['End', 'clay'],
    ['ArrowRight', 'line'],
    ['ArrowLeft', 'clay'],
  ] as const) {
    await page.keyboard.press(key);
    await settle(page);
    expect(await page.locator('[role="tab"]:focus').getAttribute('id')).toBe(`tab-${tab}`);
    expect(await page.locator(`#tab-${tab}`).getAttribute('aria-selected')).toBe('true');
  }
  expect(await page.locator('.clay-panel').textContent()).toContain('3 × 10⁹ Pa·s');
});

test('a bowl laid on its side tips back until it stands, and the page says so beside the verdict', async () => {
  const { page } = await stand.visit();
  await openForm(page, 'wide-shallow-bowl');
  await andLook(page, () => page.locator('[data-setting="on its side"]').click());
  await atRest(page);
  const warning = page.locator('.verdict [data-warning="tips-over"]');
  await expect.poll(() => warning.isVisible()).toBe(true);
  expect(await warning.textContent()).toMatch(/does not stay on its side/);
});
