import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build, isStale } from './build.ts';
import { ROOT } from './tools.ts';

if (isStale()) {
  console.log('Building (the first time, and whenever something changed) ...');
  await build();
}
// The built command, not the sources: what runs here is what was built.
const { run } = await import(pathToFileURL(join(ROOT, 'dist/cli/main.js')).href);
process.exitCode = await run(['serve', ...process.argv.slice(2)]);
