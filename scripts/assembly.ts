import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ROOT, runTool } from './tools.ts';

/** Where the compiled kernels are kept, as text, so that one import serves Node, a worker and a test alike. */
export const KERNELS = 'src/kernel/numerics/kernels.ts';

/** Most the kernels' memory may grow to: 1 GB in pages of 64 kB. */
const MOST_PAGES = 16384;

const OPTIONS = [
  ['-O3', '--noAssert', '--runtime', 'stub'],
  ['--enable', 'simd', '--enable', 'threads', '--enable', 'bulk-memory'],
  ['--importMemory', '--sharedMemory', '--initialMemory', '16', '--maximumMemory', String(MOST_PAGES)],
].flat();

/** Compiles assembly/ and gives the text of the file that keeps it. */
export const compileKernels = async (): Promise<string> => {
  const folder = mkdtempSync(join(tmpdir(), 'afterfire-kernels-'));
  try {
    const file = join(folder, 'kernels.wasm');
    const code = await runTool('assemblyscript', 'asc', ['assembly/index.ts', ...OPTIONS, '--outFile', file]);
    if (code !== 0) throw new Error('assembly/ does not compile');
    const lines =
      readFileSync(file)
        .toString('base64')
        .match(/.{1,100}/g) ?? [];
    return (
      '/** Compiled from assembly/ by `npm run assembly`; do not edit. */\n' +
      `export const MOST_PAGES = ${MOST_PAGES};\n` +
      `export const KERNELS =\n${lines.map((line) => `  '${line}'`).join(' +\n')};\n`
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

if (process.argv[1]?.endsWith('assembly.ts')) writeFileSync(join(ROOT, KERNELS), await compileKernels());
