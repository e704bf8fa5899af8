import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
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

const filesIn = (folder: string, under = ''): string[] =>
  readdirSync(join(folder, under), { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? filesIn(folder, join(under, entry.name))
      : [join(under, entry.name).replaceAll('\\', '/')],
  );

/** What keeps the page on another device when the laptop is out of reach: src/web/offline.ts with the list of the page's files. */
const buildOffline = () => {
  const page = join(ROOT, 'dist/web');
  const files = filesIn(page).filter((file) => !file.endsWith('.map'));
  const version = createHash('sha256');
  for (const file of files) version.update(readFileSync(join(page, file)));
  const kept = {
    version: version.digest('hex').slice(0, 16),
    files: files.map((f) => `/${f}`).concat('/'),
  };
  return viteBuild({
    root: ROOT,
    configFile: false,
    logLevel: 'warn',
    publicDir: false,
    define: { KEPT: JSON.stringify(kept) },
    build: {
      lib: { entry: 'src/web/offline.ts', formats: ['iife'], name: 'offline', fileName: () => 'offline.js' },
      outDir: 'dist/web',
      emptyOutDir: false,
      target: 'es2022',
    },
  });
};

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
  await buildOffline();
  await buildCommand();
};

if (process.argv[1]?.endsWith('build.ts')) await build();
