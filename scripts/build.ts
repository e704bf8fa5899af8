import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { build as viteBuild } from 'vite';
import { ROOT } from './tools.ts';

const WHAT_GOES_IN = ['src', 'package-lock.json', 'vite.config.ts', 'scripts/build.ts'];
const WHAT_COMES_OUT = ['dist/web/index.html', 'dist/cli/main.js'];

const newest_ms = (path: string): number => {
  if (!existsSync(path)) return 0;
  const about = statSync(path);
  if (!about.isDirectory()) return about.mtimeMs;
  return readdirSync(path).reduce((latest, name) => Math.max(latest, newest_ms(join(path, name))), 0);
};

/** Whether anything that goes in is younger than what came out last time. */
export const isStale = (): boolean => {
  const outputs = WHAT_COMES_OUT.map((path) => newest_ms(join(ROOT, path)));
  if (outputs.includes(0)) return true;
  return Math.max(...WHAT_GOES_IN.map((path) => newest_ms(join(ROOT, path)))) > Math.min(...outputs);
};

/** The page: src/web → dist/web. */
const buildPage = () => viteBuild({ configFile: join(ROOT, 'vite.config.ts'), logLevel: 'warn' });

/** The command line and server: src/cli → dist/cli, our own code only; packages stay in node_modules. */
const buildCommand = () =>
  viteBuild({
    root: ROOT,
    configFile: false,
    logLevel: 'warn',
    publicDir: false,
    build: {
      ssr: 'src/cli/main.ts',
      outDir: 'dist/cli',
      emptyOutDir: true,
      target: 'node20',
      minify: false,
      sourcemap: true,
      rolldownOptions: { output: { entryFileNames: '[name].js', chunkFileNames: '[name].js' } },
    },
  });

export const build = async (): Promise<void> => {
  await buildPage();
  await buildCommand();
};

if (process.argv[1]?.endsWith('build.ts')) await build();
