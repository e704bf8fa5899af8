import { createHash, X509Certificate } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { request } from 'node:https';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import jsQR from 'jsqr';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { demoRecord } from '../../src/cli/demo-record.ts';
import { demoFolder, pageFolder } from '../../src/cli/home.ts';
import { sharingOf } from '../../src/cli/sharing.ts';
import { app } from '../../src/server/app.ts';
import { type Listening, listen } from '../../src/server/listen.ts';
import { closeRecord, type StudioRecord } from '../../src/store/record.ts';
import { readStudio } from '../../src/store/studio-folder.ts';
import { FLAGS } from './page.ts';

/**
 * The laptop and a second device: opened on the laptop's page, joined by the code, used while the laptop is out of reach, put
 * out again. The second device is a browser with a profile of its own on disk that trusts this certificate's key; that the
 * certificate as such deserves it is judged by OpenSSL (src/server/share) and by Node's own TLS here.
 */
const HOST = '127.0.0.1';
let folder: string;
let laptop: Listening;
let record: StudioRecord;
let sharing: ReturnType<typeof sharingOf>;
let device: BrowserContext | undefined;
let desk: Awaited<ReturnType<typeof chromium.launch>>;
const executablePath = process.env.AFTERFIRE_CHROMIUM ?? '/usr/bin/chromium';

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'afterfire-devices-'));
  record = await demoRecord(join(folder, 'demo.sqlite'));
  const doors = {
    page: pageFolder(),
    studio: () => readStudio(demoFolder()),
    record: async () => record,
  };
  sharing = sharingOf(join(folder, 'share.json'), doors, () => [HOST]);
  laptop = await listen(app({ ...doors, sharing }), 0);
  desk = await chromium.launch({ executablePath, headless: true, args: FLAGS });
});
afterAll(async () => {
  await device?.close();
  await desk?.close();
  await sharing.stop();
  await laptop.close();
  closeRecord(record);
  rmSync(folder, { recursive: true, force: true });
});

const certificate = () =>
  (
    JSON.parse(readFileSync(join(folder, 'share.json'), 'utf8')) as {
      certificate: { authority: string; certificate: string };
    }
  ).certificate;

/** What an independent reader sees in a picture on the page. */
const scanned = async (page: Page, says: string): Promise<string | undefined> => {
  const pixels = await page.locator(`img[alt^="${says}"]`).evaluate(async (image) => {
    const shown = image as unknown as { decode(): Promise<void> };
    await shown.decode();
    const { document } = globalThis as unknown as { document: { createElement(tag: string): never } };
    const canvas = document.createElement('canvas') as unknown as {
      width: number;
      height: number;
      getContext(kind: '2d'): {
        drawImage(image: unknown, x: number, y: number, w: number, h: number): void;
        getImageData(x: number, y: number, w: number, h: number): { data: Uint8ClampedArray };
      };
    };
    canvas.width = 400;
    canvas.height = 400;
    const context = canvas.getContext('2d');
    context.drawImage(shown, 0, 0, 400, 400);
    return Array.from(context.getImageData(0, 0, 400, 400).data);
  });
  return jsQR(Uint8ClampedArray.from(pixels), 400, 400)?.data;
};

const onTheLaptop = async (): Promise<Page> => {
  const page = await desk.newPage();
  await page.goto(`${laptop.address}#devices`);
  return page;
};

test('closed until it is opened on the laptop; then joined by scanning, kept when the laptop is away, put out', async () => {
  const page = await onTheLaptop();
  await page.locator('[data-do="open to devices"]').click();
  await page.locator('[data-do="open code"]').click();
  await page.locator('.devices .code').waitFor();
  expect(await scanned(page, 'The address')).toBe(sharing.now()?.places.trust);
  const join_ = await scanned(page, 'https:');
  expect(join_).toMatch(/^https:\/\/127\.0\.0\.1:\d+\/#join=[A-Z0-9]{4}-[A-Z0-9]{4}$/);

  const spki = new X509Certificate(certificate().certificate).publicKey.export({
    type: 'spki',
    format: 'der',
  });
  const trusts = createHash('sha256').update(spki).digest('base64');
  device = await chromium.launchPersistentContext(join(folder, 'profile'), {
    executablePath,
    headless: true,
    viewport: { width: 820, height: 1180 },
    args: [...FLAGS, `--ignore-certificate-errors-spki-list=${trusts}`],
  });
  const tablet = await device.newPage();
  await tablet.goto(join_ as string);
  await tablet.locator('[data-field="join.name"]').fill('kiln room tablet');
  await tablet.getByRole('button', { name: 'Come in' }).click();
  await tablet.locator('main.today').waitFor();
  await tablet.evaluate('navigator.serviceWorker.ready');
  expect(await tablet.evaluate('self.isSecureContext && self.crossOriginIsolated')).toBe(true);
  // Once more under the keeper's eyes, then the laptop goes.
  await tablet.reload();
  await tablet.locator('main.today .piece-tile').first().waitFor();
  await sharing.stop();
  await tablet.reload();
  // The record is there as it was seen last, and says so.
  await tablet.locator('main.today .piece-tile').first().waitFor();
  await tablet.getByText('this is as it was seen last').waitFor();
  await tablet.evaluate('location.hash = "bench"');
  await tablet.locator('.piece canvas').waitFor();
  await tablet.locator('.verdict .said').waitFor();
  expect(await tablet.locator('.verdict .said').textContent()).toMatch(/\w/);

  await sharing.start();
  await page.getByRole('button', { name: 'Put out kiln room tablet' }).click();
  await page.getByText('No device yet.').waitFor();
  await tablet.reload();
  await tablet.getByRole('heading', { name: 'Come into the studio' }).waitFor();
});

test('a client that trusts the authority, and nothing of this test, is answered; one that does not is not', async () => {
  const { places } = sharing.now() ?? (await sharing.start());
  const ask = (ca?: string): Promise<number | undefined> =>
    new Promise((resolve, reject) => {
      request(`${places.secure}api/studio`, { ca }, (answer) => {
        answer.resume();
        resolve(answer.statusCode);
      })
        .on('error', reject)
        .end();
    });
  expect(await ask(certificate().authority)).toBe(401);
  await expect(ask()).rejects.toThrow(/self.signed|unable to verify/i);
});
