import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ROOMS } from '../../src/web/rooms/all-rooms.ts';
import { openStand, type Stand } from './page.ts';

/**
 * Every page against the rules of WCAG 2 as axe-core knows them (an outside judge), on a desk and on a tablet held upright,
 * and the way through it by the keyboard alone.
 */
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const SIZES = [
  { width: 1280, height: 800 },
  { width: 820, height: 1180 },
] as const;

interface Violation {
  readonly id: string;
  readonly impact: string;
  readonly nodes: readonly { readonly html: string; readonly failureSummary: string }[];
}

let stand: Stand;
beforeAll(async () => {
  stand = await openStand();
});
afterAll(() => stand.close());

/** Run as a string the page's own policy allows only from outside, as a debugger does. */
const violationsOn = async (page: Page): Promise<string[]> => {
  await page.evaluate(axe);
  const found = (await page.evaluate('axe.run(document, { resultTypes: ["violations"] })')) as {
    violations: Violation[];
  };
  return found.violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .flatMap(({ id, nodes }) => nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary}`));
};

const visited = SIZES.flatMap((viewport) => ROOMS.map(({ key }) => ({ key, viewport })));

test.each(visited)('page $key at $viewport.width: nothing serious against it', async ({ key, viewport }) => {
  const { page } = await stand.visit({ viewport });
  await page.evaluate((to) => {
    (globalThis as unknown as { location: { hash: string } }).location.hash = to;
  }, key);
  await page.waitForTimeout(400);
  expect(await violationsOn(page)).toEqual([]);
  await page.context().close();
});

test('no page asks anything of another machine', async () => {
  const { page } = await stand.visit();
  const asked: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  for (const { key } of ROOMS) {
    await page.goto(`${stand.address}#${key}`);
    await page.reload();
    await page.waitForTimeout(300);
  }
  expect(asked.length).toBeGreaterThan(ROOMS.length);
  expect(asked.filter((url) => !url.startsWith(stand.address) && !/^(blob|data):/.test(url))).toEqual([]);
  await page.context().close();
});

test('the judge sees what is wrong: a button nobody can name', async () => {
  const { page } = await stand.visit();
  await page.evaluate('document.querySelector("header").append(document.createElement("button"))');
  expect((await violationsOn(page)).join()).toContain('button-name');
  await page.context().close();
});
