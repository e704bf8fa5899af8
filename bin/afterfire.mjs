#!/usr/bin/env node
import { existsSync } from 'node:fs';

const built = new URL('../dist/cli/main.js', import.meta.url);
if (existsSync(built)) {
  const { run } = await import(built.href);
  process.exitCode = await run(process.argv.slice(2));
} else {
  process.stderr.write('Afterfire has not been built yet: run `npm run build` (or `npm start`) first.\n');
  process.exitCode = 1;
}
