import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const isOurs = (folder: string): boolean => {
  const file = join(folder, 'package.json');
  return (
    existsSync(file) && (JSON.parse(readFileSync(file, 'utf8')) as { name?: string }).name === 'afterfire'
  );
};

/** The folder Afterfire lives in, whether this runs from the sources or from what was built of them. */
export const homeFolder = (): string => {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!isOurs(folder)) {
    const above = dirname(folder);
    if (above === folder) throw new Error('the folder of Afterfire, with its package.json, was not found');
    folder = above;
  }
  return folder;
};

export const demoFolder = (): string => join(homeFolder(), 'examples');
export const pageFolder = (): string => join(homeFolder(), 'dist', 'web');
export const version = (): string =>
  (JSON.parse(readFileSync(join(homeFolder(), 'package.json'), 'utf8')) as { version: string }).version;
