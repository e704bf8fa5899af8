import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from './build.ts';
import { check } from './check.ts';
import { findChromium, installChromium } from './chromium.ts';
import { must, runTool } from './tools.ts';

interface Tally {
  passed: number;
  failed: number;
  skipped: number;
}

const reports = mkdtempSync(join(tmpdir(), 'afterfire-test-'));
const total: Tally = { passed: 0, failed: 0, skipped: 0 };

const addReport = (file: string): void => {
  if (!existsSync(file)) return; // the runner itself fell over, and says so above
  const said = JSON.parse(readFileSync(file, 'utf8')) as Record<string, number>;
  total.passed += said.numPassedTests ?? 0;
  total.failed += said.numFailedTests ?? 0;
  total.skipped += (said.numPendingTests ?? 0) + (said.numTodoTests ?? 0);
};

const vitest = (title: string, config: string, env: Record<string, string> = {}): Promise<void> =>
  must(title, async () => {
    const file = join(reports, `${config}.json`);
    const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${file}`];
    const code = await runTool('vitest', 'vitest', ['run', '--config', config, ...reporters], env);
    addReport(file);
    return code;
  });

const browserTests = async (): Promise<boolean> => {
  if (findChromium() === undefined) await installChromium();
  const chromium = findChromium();
  if (chromium === undefined) return false;
  await vitest(`tests in a browser (${chromium})`, 'vitest.browser.config.ts', {
    AFTERFIRE_CHROMIUM: chromium,
  });
  return true;
};

// On the way out, whichever way: one line that says what ran.
process.on('exit', () => {
  rmSync(reports, { recursive: true, force: true });
  console.log(`\n${total.passed} passed, ${total.failed} failed, ${total.skipped} skipped`);
});

await check();
await vitest('tests', 'vitest.config.ts');
await vitest('the outside checks again, by the compiled kernels', 'vitest.compiled.config.ts');
await must('build', async () => {
  await build();
  return 0;
});
if (!(await browserTests()))
  console.log(
    '\n!! THE BROWSER TESTS WERE SKIPPED: no Chromium or Chrome was found.\n' +
      '!! Install one, or set AFTERFIRE_CHROMIUM to its path, and run this again.',
  );
