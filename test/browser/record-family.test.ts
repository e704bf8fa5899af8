import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoRecord } from '../../src/cli/demo-record.ts';
import { demoFolder, pageFolder } from '../../src/cli/home.ts';
import { instantOf } from '../../src/making/record/instant.ts';
import { app } from '../../src/server/app.ts';
import { type Listening, listen } from '../../src/server/listen.ts';
import { firingById, lightFiring, planFiring } from '../../src/store/firings.ts';
import { entriesOfFiring } from '../../src/store/journal-rows.ts';
import { photoPath, readPhoto, smallPhotoOf } from '../../src/store/photos.ts';
import { pieceByNumber } from '../../src/store/pieces.ts';
import { readPicture } from '../../src/store/read-picture.ts';
import { closeRecord, type StudioRecord, soundnessOf } from '../../src/store/record.ts';
import { allSeries, familyOf } from '../../src/store/series.ts';
import { readSettings } from '../../src/store/settings.ts';
import { readStudio } from '../../src/store/studio-folder.ts';
import { FLAGS } from './page.ts';

/** Whose form grew out of whose, what a thermometer said, and photos small enough for a list: in a real browser. */

let folder: string;
let browser: Browser;
let record: StudioRecord;
let server: Listening;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'afterfire-family-'));
  record = await demoRecord(join(folder, 'demo.sqlite'));
  server = await listen(
    app({ page: pageFolder(), studio: () => readStudio(demoFolder()), record: async () => record }),
    0,
  );
  browser = await chromium.launch({
    executablePath: process.env.AFTERFIRE_CHROMIUM ?? '/usr/bin/chromium',
    headless: true,
    args: FLAGS,
  });
});
afterAll(async () => {
  await browser.close();
  await server.close();
  closeRecord(record);
  rmSync(folder, { recursive: true, force: true });
});

const visit = async (hash: string, width = 820, height = 1180) => {
  const context = await browser.newContext({ viewport: { width, height }, locale: 'en-GB' });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  const said: string[] = [];
  page.on('pageerror', (error) => said.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') said.push(message.text());
  });
  await page.goto(`${server.address}${hash}`);
  return { page, said };
};

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe-core (an outside judge of WCAG 2) finds serious, what is under 44 px high (WCAG 2.2, 2.5.5), what stands out to the right. */
const faultsOf = async (page: Page): Promise<string[]> => {
  await page.evaluate(axe);
  const { violations } = (await page.evaluate('axe.run(document, { resultTypes: ["violations"] })')) as {
    violations: { id: string; impact: string; nodes: { html: string }[] }[];
  };
  const small =
    (await page.evaluate(`[...document.querySelectorAll('main :is(button, .button, select, textarea, input:not([type=file]))')]
    .filter((one) => one.offsetParent && one.getBoundingClientRect().height < 43.5).map((one) => 'small: ' + one.outerHTML.slice(0, 120))`)) as string[];
  const wide = Number(await page.evaluate('document.documentElement.scrollWidth - innerWidth'));
  return [
    ...violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html}`)),
    ...small,
    ...(wide > 0 ? [`${wide} px too wide`] : []),
  ];
};

const field = (page: Page, name: string) => page.locator(`[data-field="${name}"]`);

/** To a thing by Tab alone. */
const tabTo = async (page: Page, selector: string): Promise<void> => {
  for (let i = 0; i < 80; i++) {
    if (await page.locator(`${selector}:focus`).count()) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`${selector} is not reached by Tab`);
};

test('a form is given a parent and a new series, and the picture of the family shows the descent', async () => {
  const [first, second] = allSeries(record.db);
  const of = (series: number) => familyOf(record.db).filter((form) => form.series === series);
  const [grown, parent] = [of(first!.id)[0]!, of(second!.id)[0]!];
  const { page, said } = await visit(`#family/${grown.form}`);
  await field(page, 'descent.parent').waitFor();
  expect(await page.locator(`[data-to="${grown.form}"]`).count()).toBe(0);
  expect(await faultsOf(page)).toEqual([]);
  await field(page, 'descent.parent').selectOption(String(parent.form));
  expect(await field(page, 'descent.series').inputValue()).toBe(String(second!.id));
  await page.locator('[data-do="keep-descent"]').click();
  await page.locator(`.family[aria-label="${second!.name}"] [data-to="${grown.form}"]`).waitFor();
  expect(await page.locator('.descent-form [role="status"]').textContent()).toMatch(/Kept/);
  expect(await page.locator('[data-do="keep-descent"]:focus').count()).toBe(1);

  // A series of its own, by the keyboard alone.
  await page.keyboard.press('Shift+Tab');
  await page.keyboard.press('End');
  await tabTo(page, '[data-field="descent.name"]');
  await page.keyboard.type('Grown late');
  await page.keyboard.press('Enter');
  await page.locator('.family[aria-label="Grown late"] .form-card').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  const told = familyOf(record.db).find(({ form }) => form === grown.form);
  expect(told?.parent).toBe(parent.form);
  expect(allSeries(record.db).find(({ id }) => id === told?.series)?.name).toBe('Grown late');
  expect(said).toEqual([]);
  await page.context().close();
});

test('a form cannot descend from itself or from what grew out of it: the server says so in words', async () => {
  const child = familyOf(record.db).findLast(({ parent }) => parent !== null)!;
  const parent = familyOf(record.db).find(({ form }) => form === child.parent)!;
  const { page } = await visit(`#family/${parent.form}`);
  await field(page, 'descent.parent').waitFor();
  for (const [chosen, words] of [
    [parent.form, /cannot descend from itself/],
    [child.form, /does not itself descend from/],
  ] as const) {
    await field(page, 'descent.parent').selectOption(String(chosen));
    await page.locator('[data-do="keep-descent"]').click();
    const alert = page.locator('.descent-form [role="alert"]');
    await alert.waitFor();
    expect(await alert.textContent()).toMatch(words);
    expect(await alert.textContent()).toContain(parent.name);
  }
  expect(familyOf(record.db).find(({ form }) => form === parent.form)).toEqual(parent);
  await page.context().close();
});

test('what the thermometer says, when, and a note of one’s own are kept on the firing’s page', async () => {
  const { zone } = readSettings(record.db);
  const ago = (hours: number) => new Date(Date.now() - hours * 3_600_000).toISOString();
  const { firing } = planFiring(record.db, { at_utc: ago(9), zone, name: 'A firing of a test' }, ago(0));
  lightFiring(record.db, firing, { at_utc: ago(8), zone }, ago(0));
  const { page, said } = await visit(`#firing/${firing}`);
  await field(page, 'reading.temperature').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  await field(page, 'reading.temperature').fill('warm');
  await page.locator('[data-do="keep-reading"]').click();
  expect(await page.locator('.reading-form [role="alert"]').textContent()).toMatch(/warm will not do/);
  await field(page, 'reading.temperature').fill('612');
  await page.locator('[data-do="keep-reading"]').click();
  await page.locator('.firing-line [data-kind="read"]', { hasText: '612 °C' }).waitFor();
  // Noted later than it was read: it stands where it belongs, before the other.
  const local = new Intl.DateTimeFormat('sv-SE', { dateStyle: 'short', timeStyle: 'short', timeZone: zone })
    .format(new Date(ago(2)))
    .replace(' ', 'T');
  await field(page, 'reading.temperature').fill('540');
  await field(page, 'reading.when').fill(local);
  await page.locator('[data-do="keep-reading"]').click();
  await page.locator('.firing-line [data-kind="read"]', { hasText: '540 °C' }).waitFor();
  expect(firingById(record.db, firing)?.state.readings.map(({ temperature_C }) => temperature_C)).toEqual([
    540, 612,
  ]);
  expect(firingById(record.db, firing)?.state.readings[0]?.at_utc).toBe(instantOf(local, zone));
  expect(await page.locator('.firing-line [data-kind="read"]').allTextContents()).toEqual([
    expect.stringContaining('540'),
    expect.stringContaining('612'),
  ]);
  await field(page, 'note').focus();
  await page.keyboard.type('Smelt of the wax until four.');
  await tabTo(page, '[data-do="keep-note"]');
  await page.keyboard.press('Enter');
  await page.locator('.firing-line q', { hasText: 'Smelt of the wax' }).waitFor();
  expect(await field(page, 'note').inputValue()).toBe('');
  expect(entriesOfFiring(record.db, firing).map(({ kind }) => kind)).toEqual([
    'planned',
    'lit',
    'read',
    'read',
    'noted',
  ]);
  expect(await faultsOf(page)).toEqual([]);
  expect(said).toEqual([]);
  await page.context().close();
});

test('a photo is kept as it is and, for lists, as a small one of at most 320 px', async () => {
  const { page, said } = await visit('#piece/R-112', 1280, 800);
  await page.locator('main.one-piece').waitFor();
  const photo = await page.screenshot({ type: 'jpeg' });
  const shown = page.waitForResponse(
    (answer) => answer.url().endsWith('/small') && answer.request().method() === 'GET',
  );
  await page
    .locator('.photo-wall input[type="file"]')
    .setInputFiles({ name: 'a.jpg', mimeType: 'image/jpeg', buffer: photo });
  const listed = await (await shown).body();
  const kept = pieceByNumber(record.db, 'R-112')!.state.photos.at(-1)!;
  expect(Buffer.from(readPhoto(record, kept).bytes).equals(photo)).toBe(true);
  const small = smallPhotoOf(record.db, kept)!;
  const bytes = readPhoto(record, small).bytes;
  expect(Buffer.from(bytes).equals(listed)).toBe(true);
  expect(listed.length).toBeLessThan(photo.length);
  // Its size as jpeg-js, an independent decoder, reads it: 1280 × 800 brought down to 320.
  const { width, height } = (await readPicture(photoPath(record.photos, small, 'jpeg'))).picture;
  expect([width, height]).toEqual([320, 200]);
  expect(soundnessOf(record.db).damage).toEqual([]);
  expect(said).toEqual([]);
  await page.context().close();
});
