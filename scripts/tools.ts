import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder with package.json in it. */
export const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));

/** The JavaScript file behind a package's command; started with node itself, so no shell and no `.cmd` shim is involved. */
export const commandFile = (packageName: string, command: string): string => {
  const folder = join(ROOT, 'node_modules', packageName);
  const { bin } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8')) as {
    bin: string | Record<string, string>;
  };
  const file = typeof bin === 'string' ? bin : bin[command];
  if (file === undefined) throw new Error(`${packageName} has no command ${command}`);
  return join(folder, file);
};

/** Runs a program to its end, its output going straight to ours; resolves to its exit code. */
export const runProgram = (
  program: string,
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
): Promise<number> =>
  new Promise((resolve, reject) => {
    const child = spawn(program, args, { cwd: ROOT, stdio: 'inherit', env: { ...process.env, ...env } });
    child.on('error', reject);
    child.on('close', (code) => resolve(code ?? 1));
  });

/** Runs a command of an installed package, e.g. `runTool('typescript', 'tsc', ['-p', 'tsconfig.json'])`. */
export const runTool = (
  packageName: string,
  command: string,
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
): Promise<number> => runProgram(process.execPath, [commandFile(packageName, command), ...args], env);

/** A step whose failure ends the whole script. */
export const must = async (title: string, step: () => Promise<number>): Promise<void> => {
  const started = performance.now();
  console.log(`\n== ${title}`);
  const code = await step();
  console.log(
    `== ${title}: ${code === 0 ? 'good' : 'FAILED'} (${((performance.now() - started) / 1000).toFixed(1)} s)`,
  );
  if (code !== 0) process.exit(code);
};
