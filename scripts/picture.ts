import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { run } from '../src/cli/main.ts';
import { ROOT } from './tools.ts';

/** The picture at the top of the README, made as anyone would make it. */
const folder = mkdtempSync(join(tmpdir(), 'afterfire-picture-'));
const form = join(ROOT, 'examples', 'lobed-tube.form.json');
process.exitCode = await run(['fire', form, '--setting', 'all', '--svg', '--out', folder]);
if (process.exitCode === 0) copyFileSync(join(folder, 'lobed-tube.svg'), join(ROOT, 'docs', 'picture.svg'));
rmSync(folder, { recursive: true, force: true });
