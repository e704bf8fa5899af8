import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoRecord } from '../../src/cli/demo-record.ts';
import { demoFolder, pageFolder } from '../../src/cli/home.ts';
import { app } from '../../src/server/app.ts';
import { type Listening, listen } from '../../src/server/listen.ts';
import { entriesOfPiece } from '../../src/store/journal-rows.ts';
import { pieceByNumber } from '../../src/store/pieces.ts';
import { closeRecord, newRecord, type StudioRecord, soundnessOf } from '../../src/store/record.ts';
import { readStudio } from '../../src/store/studio-folder.ts';
import { FLAGS } from './page.ts';

/**
 * The record as somebody with wet hands meets it: a whole life from form to sold and two steps back, everything found
 * again, one event by the keyboard alone, and what happens when saving fails. The first three follow one another: the piece of the
 * second is the one the third finds.
 */

let folder: string;
let browser: Browser;
let own: { record: StudioRecord; server: Listening };
let demo: { record: StudioRecord; server: Listening };

const served = async (record: StudioRecord) => ({
  record,
  server: await listen(
    app({ page: pageFolder(), studio: () => readStudio(demoFolder()), record: async () => record }),
    0,
  ),
});

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'afterfire-record-'));
  own = await served(newRecord(join(folder, 'own.sqlite')));
  demo = await served(await demoRecord(join(folder, 'demo.sqlite')));
  browser = await chromium.launch({
    executablePath: process.env.AFTERFIRE_CHROMIUM ?? '/usr/bin/chromium',
    headless: true,
    args: FLAGS,
  });
});
afterAll(async () => {
  await browser.close();
  for (const { record, server } of [own, demo]) {
    await server.close();
    closeRecord(record);
  }
  rmSync(folder, { recursive: true, force: true });
});

const visit = async (server: Listening, hash = '', width = 820, height = 1180) => {
  const context = await browser.newContext({ viewport: { width, height }, locale: 'en-GB' });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  const said: string[] = [];
  page.on('pageerror', (error) => said.push(String(error)));
  page.on('console', (message) => {
    if (message.type() === 'error') said.push(message.text());
  });
  await page.goto(`${server.address}${hash}`);
  return { page, said };
};

const tap = (page: Page, selector: string) => page.locator(selector).first().click();
const stageIs = (page: Page, stage: string) => page.locator(`main[data-stage="${stage}"]`).waitFor();
const standsIs = (page: Page, stands: string) => page.locator(`main[data-stands="${stands}"]`).waitFor();
const keys = async (page: Page, figures: string) => {
  for (const figure of figures) await tap(page, `.number-pad [data-key="${figure}"]`);
};
/** Something that happened, by its big button. */
const happened = async (page: Page, kind: string, fill: () => Promise<unknown> = async () => {}) => {
  await tap(page, `.next-steps [data-kind="${kind}"]`);
  await page.locator(`.entry-sheet[data-kind="${kind}"]`).waitFor();
  await fill();
  await tap(page, '[data-do="record"]');
  await page.locator('.next-steps').waitFor();
};

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe-core (an outside judge of WCAG 2) finds serious. */
const violationsOn = async (page: Page): Promise<string[]> => {
  await page.evaluate(axe);
  const { violations } = (await page.evaluate('axe.run(document, { resultTypes: ["violations"] })')) as {
    violations: { id: string; impact: string; nodes: { html: string }[] }[];
  };
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html}`));
};

test('an empty record asks four things and then is ready', async () => {
  const { page, said } = await visit(own.server);
  await page.locator('.first-run').waitFor();
  expect(await violationsOn(page)).toEqual([]);
  await page.locator('[data-field="first.name"]').fill('A studio of a test');
  await tap(page, '[data-field="first.form"] [data-tile="small-plain-cylinder"]');
  await tap(page, '[data-do="begin-record"]');
  await page.locator('main.today').waitFor();
  expect(await page.locator('main.today h1').textContent()).toBe('A studio of a test');
  expect(await page.locator('.nothing-needed').count()).toBe(1);
  expect(said).toEqual([]);
  await page.context().close();
});

test('a piece from form to sold, three taps for the usual step, and two steps back again', async () => {
  const { page, said } = await visit(own.server, '#new-piece');
  await page.locator('[data-field="new.number"]').waitFor();
  await page.locator('[data-field="new.number"]').fill('A-001');
  await page.locator('[data-field="new.weight"]').focus();
  await keys(page, '900');
  await tap(page, '[data-do="begin-piece"]');
  await stageIs(page, 'formed');
  await happened(page, 'carved');
  await happened(page, 'drying', () => page.locator('[data-field="entry.place"]').fill('the damp shelf'));
  await stageIs(page, 'drying');
  expect(await page.locator('.state-line').textContent()).toMatch(
    /Drying since today, 0 h now.*the damp shelf/,
  );
  await happened(page, 'dry');
  await stageIs(page, 'bone dry');
  await happened(page, 'weighed', () => keys(page, '712.5'));
  await happened(page, 'set', () =>
    expect.poll(() => page.locator('[data-field="entry.firingName"]').inputValue()).toBe('Firing 1'),
  );
  await stageIs(page, 'set');
  await tap(page, '[data-do="firing"]');
  for (const [step, stage] of [
    ['lit', 'lit'],
    ['off', 'off'],
    ['opened', 'opened'],
  ] as const) {
    await tap(page, `[data-do="${step}"]`);
    await stageIs(page, stage);
  }
  await page.goto(`${own.server.address}#piece/A-001`);
  await stageIs(page, 'unloaded');
  await happened(page, 'finished');
  await happened(page, 'priced', () => keys(page, '240'));
  await happened(page, 'packed', () => page.locator('[data-field="entry.box"]').fill('box 3'));
  await standsIs(page, 'packed');
  await happened(page, 'shown', () => page.locator('[data-field="entry.place"]').fill('Harbour market'));
  await standsIs(page, 'shown');
  await happened(page, 'sold', async () => {
    expect(await page.locator('[data-field="entry.price_minor"]').inputValue()).toBe('240.00');
  });
  await standsIs(page, 'sold');
  expect(await page.locator('.life-line [data-done="true"]').count()).toBe(12);
  expect(await page.locator('.state-line').textContent()).toMatch(/Sold today for €240\.00/);

  const written = () => entriesOfPiece(own.record.db, pieceByNumber(own.record.db, 'A-001')!.id);
  const before = written();
  await tap(page, '[data-do="undo-step"]');
  await standsIs(page, 'shown');
  await page.getByRole('button', { name: 'Undo: Shown' }).click();
  await standsIs(page, 'packed');
  expect(written()).toHaveLength(before.length + 2); // nothing is rubbed out
  expect(written().slice(0, before.length)).toEqual(before);
  await page.getByRole('button', { name: 'Redo: Shown' }).click();
  await standsIs(page, 'shown');
  await page.getByRole('button', { name: 'Redo: Sold' }).click();
  await standsIs(page, 'sold');
  expect(soundnessOf(own.record.db).damage).toEqual([]);
  expect(said).toEqual([]);
  await page.context().close();
});

test('anything is found by number, form, month, place and a word of a note', async () => {
  const { page } = await visit(own.server, '#today');
  const find = async (words: string) => {
    await page.locator('[data-field="search"]').fill(words);
    await page.locator('.search-box .piece-tile b', { hasText: 'A-001' }).first().waitFor();
  };
  const month = new Intl.DateTimeFormat('en-GB', { month: 'long', year: 'numeric' }).format(new Date());
  for (const words of ['A-001', 'cylinder', month, 'harbour']) await find(words);
  await page.locator('[data-field="search"]').fill('nowhere at all');
  await page.locator('[data-found="0"]').waitFor();
  await page.context().close();
});

test('the keyboard alone records an event', async () => {
  const { page, said } = await visit(demo.server, '#piece/R-144', 1280, 800);
  await stageIs(page, 'drying');
  const to = async (selector: string) => {
    for (let i = 0; i < 60; i++) {
      if (await page.locator(`${selector}:focus`).count()) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`${selector} is not reached by Tab`);
  };
  await to('.next-steps [data-kind="dry"]');
  await page.keyboard.press('Enter');
  await page.locator('.entry-sheet').waitFor();
  expect(await violationsOn(page)).toEqual([]);
  await to('[data-field="entry.note"]');
  await page.keyboard.type('Rang clear when tapped.');
  await to('[data-do="record"]');
  await page.keyboard.press('Enter');
  await stageIs(page, 'bone dry');
  expect(await page.locator('.said-line').textContent()).toBe('Recorded: Bone dry.');
  expect(await page.locator('.notes blockquote').first().textContent()).toContain('Rang clear');
  // What comes next has the focus, so that the hands need not look for it.
  await expect.poll(() => page.locator('.next-steps button:focus').count()).toBe(1);
  expect(said).toEqual([]);
  await page.context().close();
});

test('a save that fails says so and keeps what was typed, over a reload too; sent again it is written once', async () => {
  const { page } = await visit(demo.server, '#piece/R-143');
  await stageIs(page, 'drying');
  await tap(page, '[data-kind="carved"]');
  await page.locator('[data-field="entry.note"]').fill('Flutes cut a little deep.');
  await page.locator('[data-field="entry.hours"]').fill('0.75');
  // The entry arrives and its answer does not: the worst moment for the network to fail.
  let sent = 0;
  await page.route('**/api/record/entries', async (route) => {
    sent++;
    await route.fetch();
    await route.abort();
  });
  await tap(page, '[data-do="record"]');
  const alert = page.locator('.entry-sheet [role="alert"]');
  await alert.waitFor();
  expect(await alert.textContent()).toMatch(/Not recorded.*still here/);
  expect(await page.locator('[data-field="entry.note"]').inputValue()).toBe('Flutes cut a little deep.');
  await page.reload();
  await page.locator('.entry-sheet').waitFor();
  expect(await page.locator('[data-field="entry.note"]').inputValue()).toBe('Flutes cut a little deep.');
  expect(await page.locator('[data-field="entry.hours"]').inputValue()).toBe('0.75');
  await page.unroute('**/api/record/entries');
  await tap(page, '[data-do="record"]');
  await page.locator('.next-steps').waitFor();
  expect(sent).toBe(1);
  const { db } = demo.record;
  const carved = entriesOfPiece(db, pieceByNumber(db, 'R-143')!.id).filter(({ kind }) => kind === 'carved');
  expect(carved).toHaveLength(1);
  await page.context().close();
});

test('what cannot be is refused in words, beside what was typed', async () => {
  const { page } = await visit(demo.server, '#piece/R-142');
  await stageIs(page, 'drying');
  await tap(page, '[data-do="more"]');
  await tap(page, '.other-steps [data-kind="weighed"]');
  await page.locator('[data-field="entry.weight_g"]').fill('heavy');
  await tap(page, '[data-do="record"]');
  expect(await page.locator('.entry-sheet .fault[role="alert"]').textContent()).toMatch(/heavy will not do/);
  await page.context().close();
});

test('a photo is kept and shown', async () => {
  const { page } = await visit(demo.server, '#piece/R-111');
  await page.locator('main.one-piece').waitFor();
  const before = await page.locator('.photos img').count();
  const png = await page.screenshot();
  await page
    .locator('.photo-wall input[type="file"]')
    .setInputFiles({ name: '../../x.svg', mimeType: 'image/png', buffer: png });
  await expect.poll(() => page.locator('.photos img').count()).toBe(before + 1);
  await page.context().close();
});

const FILLED = ['today', 'piece', 'piece/R-128', 'new-piece', 'family', 'family/1', 'firing', 'firing/14'];

test.each(FILLED)(
  'page %s, filled: nothing serious against it, and every target is 44 px high',
  async (hash) => {
    for (const [width, height] of [
      [1280, 800],
      [820, 1180],
    ] as const) {
      const { page, said } = await visit(demo.server, `#${hash}`, width, height);
      await page.locator('main h1').waitFor();
      await page.waitForTimeout(600);
      expect(await violationsOn(page)).toEqual([]);
      const small =
        await page.evaluate(`[...document.querySelectorAll('main :is(button, .button, a.piece-tile, select, summary, input:not([type=file]):not([type=checkbox]))')]
      .filter((one) => one.offsetParent && one.getBoundingClientRect().height < 43.5).map((one) => one.outerHTML.slice(0, 120))`);
      expect(small).toEqual([]);
      const wide = await page.evaluate('document.documentElement.scrollWidth - innerWidth');
      expect(wide).toBeLessThanOrEqual(0);
      expect(said).toEqual([]);
      await page.context().close();
    }
  },
);
