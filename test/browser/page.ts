import { type Browser, type BrowserContextOptions, chromium, type Locator, type Page } from 'playwright-core';
import { demoFolder, pageFolder } from '../../src/cli/home.ts';
import { app } from '../../src/server/app.ts';
import { type Listening, listen } from '../../src/server/listen.ts';
import { readStudio } from '../../src/store/studio-folder.ts';
import { writerOf } from '../../src/store/studio-writer.ts';

/** No network beyond loopback, no sandbox (containers have none), 3D by software so that it is there everywhere. */
export const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** The built page, served by the real server from the demo studio, in a real browser. */
export interface Stand {
  /** A fresh visitor: nothing kept from before. `said` gathers what the page complains of. */
  readonly visit: (options?: BrowserContextOptions) => Promise<{ page: Page; said: string[] }>;
  readonly address: string;
  readonly close: () => Promise<void>;
}

/** @param own a studio's folder that may be written to; left out, the demo, which may not */
export const openStand = async (own?: string): Promise<Stand> => {
  const server: Listening = await listen(
    app({
      page: pageFolder(),
      studio: () => readStudio(own ?? demoFolder()),
      ...(own !== undefined && { writer: writerOf(own) }),
    }),
    0,
  );
  const browser: Browser = await chromium.launch({
    executablePath: process.env.AFTERFIRE_CHROMIUM ?? '/usr/bin/chromium',
    headless: true,
    args: FLAGS,
  });
  return {
    address: server.address,
    visit: async (options = {}) => {
      const context = await browser.newContext({ viewport: { width: 1280, height: 800 }, ...options });
      const page = await context.newPage();
      const said: string[] = [];
      page.on('pageerror', (error) => said.push(String(error)));
      page.on('console', (message) => {
        if (message.type() === 'error') said.push(message.text());
      });
      await page.goto(server.address);
      await atRest(page);
      return { page, said };
    },
    close: async () => {
      await browser.close();
      await server.close();
    },
  };
};

const filmsShown = (page: Page): Promise<number> =>
  page
    .locator('.piece canvas')
    .evaluate((canvas) => Number((canvas as unknown as { dataset: { films?: string } }).dataset.films ?? 0));

/** Waits until more films than so many have reached the screen; gives how many by then. */
export const untilFilm = async (page: Page, after: number): Promise<number> => {
  await page.waitForFunction(
    (n) => {
      const { document } = globalThis as unknown as {
        document: { querySelector: (s: string) => { dataset: { films?: string } } | null };
      };
      return Number(document.querySelector('.piece canvas')?.dataset.films ?? 0) > n;
    },
    after,
    { timeout: 60_000 },
  );
  return filmsShown(page);
};

/** A quick look under a moving hand has some 800 triangles, the one that follows when it rests some 2,400. */
const AT_REST = 1500;

/** Waits for the finer look that follows when the hand rests, so that the numbers hold still. */
export const atRest = (page: Page): Promise<unknown> =>
  page.waitForFunction(
    (least) => {
      const { document } = globalThis as unknown as {
        document: { querySelector: (s: string) => { dataset: { triangles?: string } } | null };
      };
      return Number(document.querySelector('.piece')?.dataset.triangles ?? 0) > least;
    },
    AT_REST,
    { timeout: 60_000 },
  );

/** The page redraws at the next frame; this waits for it. */
export const settle = (page: Page): Promise<unknown> =>
  page.evaluate(
    () =>
      new Promise((resolve) => {
        const { requestAnimationFrame } = globalThis as unknown as {
          requestAnimationFrame: (f: () => void) => void;
        };
        requestAnimationFrame(() => requestAnimationFrame(() => resolve(0)));
      }),
  );

/** Does something that changes the work, and waits for the quick look that follows. */
export const andLook = async (page: Page, act: () => Promise<unknown>): Promise<void> => {
  const before = await filmsShown(page);
  await act();
  await untilFilm(page, before);
};

/** A measure the page shows, in the unit of its data attribute. */
export const measure = async (page: Page, name: string, stage: string, unit = 'mm'): Promise<number> =>
  Number(
    await page.locator(`[data-measure="${name}"][data-stage="${stage}"]`).getAttribute(`data-value-${unit}`),
  );

export const openForm = async (page: Page, key: string): Promise<void> => {
  await andLook(page, () => page.locator('[data-field="form"]').selectOption(key));
  await atRest(page);
};

/** The middle of a handle's mark, in page pixels. */
export const middleOf = async (handle: Locator): Promise<readonly [x: number, y: number]> => {
  const box = await handle.locator('circle, rect').boundingBox();
  if (!box) throw new Error('the handle is not drawn');
  return [box.x + box.width / 2, box.y + box.height / 2];
};

export const fieldValue = async (page: Page, field: string): Promise<number> =>
  Number(await page.locator(`[data-field="${field}"]`).inputValue());
