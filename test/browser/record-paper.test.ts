import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoRecord } from '../../src/cli/demo-record.ts';
import { demoFolder, pageFolder } from '../../src/cli/home.ts';
import { printerFor } from '../../src/cli/paper/paper-pages.ts';
import { app } from '../../src/server/app.ts';
import { type Listening, listen } from '../../src/server/listen.ts';
import { closeRecord, type StudioRecord } from '../../src/store/record.ts';
import { readStudio } from '../../src/store/studio-folder.ts';
import { FLAGS } from './page.ts';

/** What the page makes of the record as files: papers of pieces, the table, the archive, a backup. */

let folder: string;
let browser: Browser;
let record: StudioRecord;
let server: Listening;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'afterfire-papers-'));
  record = await demoRecord(join(folder, 'demo.sqlite'));
  const studio = () => readStudio(demoFolder());
  const printer = printerFor(new AbortController().signal);
  server = await listen(app({ page: pageFolder(), studio, record: async () => record, printer }), 0);
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

const visit = async (hash: string, fold: string) => {
  const context = await browser.newContext({ viewport: { width: 820, height: 1180 }, locale: 'en-GB' });
  const page = await context.newPage();
  page.setDefaultTimeout(30_000);
  await page.goto(`${server.address}#${hash}`);
  await page.locator(`[data-fold="${fold}"] > summary`).click();
  return page;
};

const saved = async (page: Page, button: string): Promise<{ name: string; bytes: Buffer }> => {
  const coming = page.waitForEvent('download');
  await page.locator(button).click();
  const file = await coming;
  return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) };
};

/** Sizes of the pages as the PDF itself has them (ISO 32000, MediaBox, points of 1/72 in), in mm. */
const pagesOf = (pdf: Buffer): [number, number][] =>
  [...pdf.toString('latin1').matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, w, h]) => [
    (Number(w) * 25.4) / 72,
    (Number(h) * 25.4) / 72,
  ]);

const expectPaper = ({ bytes }: { bytes: Buffer }, [width, height]: readonly [number, number]): void => {
  expect(bytes.subarray(0, 4).toString('latin1')).toBe('%PDF');
  const pages = pagesOf(bytes);
  expect(pages.length).toBeGreaterThan(0);
  for (const [w, h] of pages) {
    expect(w).toBeCloseTo(width, 1);
    expect(h).toBeCloseTo(height, 1);
  }
};
const A4 = [210, 297] as const;
const LETTER = [215.9, 279.4] as const;

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What axe-core (an outside judge of WCAG 2) finds serious, and what is lower than 44 px. */
const expectClean = async (page: Page): Promise<void> => {
  await page.evaluate(axe);
  const found =
    await page.evaluate(`axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) =>
    violations.filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .flatMap(({ id, nodes }) => nodes.map(({ html }) => id + ': ' + html)))`);
  expect(found).toEqual([]);
  const small =
    await page.evaluate(`[...document.querySelectorAll('.paper-fold :is(button, select, summary, input)')]
    .filter((one) => one.offsetParent && one.getBoundingClientRect().height < 43.5).map((one) => one.outerHTML.slice(0, 120))`);
  expect(small).toEqual([]);
  expect(await page.evaluate('document.documentElement.scrollWidth - innerWidth')).toBeLessThanOrEqual(0);
};

test('the papers of a piece come as PDF of the size asked for, and a wrong place is refused in words', async () => {
  const page = await visit('piece/R-128', 'print');
  await expectClean(page);
  for (const kind of ['cards', 'tags', 'labels'])
    expectPaper(await saved(page, `[data-print="${kind}"]`), A4);
  await page.locator('[data-field="print.paper"]').selectOption('letter');
  await page.locator('[data-field="print.first"]').fill('30');
  const label = await saved(page, '[data-print="labels"]');
  expect(label.name).toBe('labels-r-128.pdf');
  expectPaper(label, LETTER);
  await page.locator('[data-field="print.first"]').fill('31');
  await page.locator('[data-print="labels"]').click();
  const alert = page.locator('[data-fold="print"] [role="alert"]');
  await alert.waitFor();
  expect(await alert.textContent()).toMatch(/Not made.*1 to 30/);
  const sheet = await saved(page, '[data-print="sheet"]');
  expect(sheet.name).toBe('sheet-r-128.pdf');
  expectPaper(sheet, LETTER);
  await page.context().close();
});

test('labels of the sixty pieces that are shown fill three sheets of twenty-one', async () => {
  const page = await visit('piece', 'labels');
  await expectClean(page);
  const labels = await saved(page, '[data-print="labels"]');
  expect(labels.name).toBe('labels-60-pieces.pdf');
  expectPaper(labels, A4);
  expect(pagesOf(labels.bytes)).toHaveLength(3);
  await page.context().close();
});

test('table, archive and a backup, from the first page', async () => {
  const page = await visit('today', 'keep');
  const table = await saved(page, '[data-do="table"]');
  expect(table.name).toMatch(/^[a-z0-9-]+-pieces-\d{4}-\d\d-\d\d\.csv$/);
  expect(table.bytes.toString('utf8')).toMatch(/^number,title,.*\r\n[\s\S]*\r\nR-128,/);
  const archive = await saved(page, '[data-do="archive"]');
  expect(archive.name).toMatch(/\.zip$/);
  // Begins with a file, ends with the end of its list (APPNOTE 6.3: local file header, end of central directory).
  expect(archive.bytes.subarray(0, 4).toString('latin1')).toBe('PK\u0003\u0004');
  expect(archive.bytes.lastIndexOf('PK\u0005\u0006', undefined, 'latin1')).toBeGreaterThan(0);
  await page.locator('[data-do="backup-now"]').click();
  await page.locator('[data-backup][data-sound="true"]').first().waitFor();
  expect(await page.locator('[data-backup]').count()).toBe(1);
  await expectClean(page);
  await page.context().close();
});
