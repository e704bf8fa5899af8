import { existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { runProgram } from './tools.ts';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];

const onThePath = (env: NodeJS.ProcessEnv): string[] => {
  const ending = process.platform === 'win32' ? '.exe' : '';
  return (env.PATH ?? '')
    .split(delimiter)
    .flatMap((folder) => NAMES.map((name) => join(folder, name + ending)));
};

/** Where macOS and Windows keep an installed browser; neither puts it on the PATH. */
const usualPlaces = (env: NodeJS.ProcessEnv): string[] => {
  if (process.platform === 'darwin')
    return ['', env.HOME ?? ''].flatMap((home) => [
      `${home}/Applications/Google Chrome.app/Contents/MacOS/Google Chrome`,
      `${home}/Applications/Chromium.app/Contents/MacOS/Chromium`,
    ]);
  if (process.platform === 'win32')
    return [env.PROGRAMFILES, env['PROGRAMFILES(X86)'], env.LOCALAPPDATA]
      .filter((folder) => folder !== undefined)
      .flatMap((folder) => [
        join(folder, 'Google', 'Chrome', 'Application', 'chrome.exe'),
        join(folder, 'Chromium', 'Application', 'chrome.exe'),
      ]);
  return [];
};

/** An installed Chromium or Chrome; AFTERFIRE_CHROMIUM names one outright. */
export const findChromium = (env: NodeJS.ProcessEnv = process.env): string | undefined => {
  const named = env.AFTERFIRE_CHROMIUM;
  if (named !== undefined && named !== '') return named;
  return [...onThePath(env), ...usualPlaces(env)].find((path) => existsSync(path));
};

/** On Debian as root, Debian's own package; anywhere else nothing is installed behind a person's back. */
export const installChromium = async (): Promise<void> => {
  const debianAsRoot = existsSync('/etc/debian_version') && process.getuid?.() === 0;
  if (!debianAsRoot) return;
  console.log('No Chromium or Chrome found: installing the Debian package `chromium` with apt.');
  const env = { DEBIAN_FRONTEND: 'noninteractive' };
  if ((await runProgram('apt-get', ['update', '-q'], env)) !== 0) return;
  await runProgram('apt-get', ['install', '-y', '-q', '--no-install-recommends', 'chromium'], env);
};
