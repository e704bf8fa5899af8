import { join } from 'node:path';
import { AfterfireError } from '../error.ts';
import { parseUnloading, type Unloading } from '../making/learning/unloading.ts';
import { parseFile } from './json-text.ts';
import { readText } from './read-text.ts';
import { writeNew } from './write-file.ts';

export const UNLOADING = '.unloading.json';

export const readUnloading = async (path: string): Promise<Unloading> =>
  parseFile(path, await readText(path), parseUnloading);

/** `the Front-loader` → `the-front-loader`: letters that every disk takes. */
const plain = (words: string): string =>
  words
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '') || 'kiln';

const MOST_A_DAY = 99;

/**
 * Keeps an unloading in a studio's folder, under a name made of its day and kiln that is not yet taken.
 * @returns its key, the name without its ending
 * @throws AfterfireError `cannot-do` where the disk does not take it
 */
export const keepUnloading = async (folder: string, unloading: Unloading): Promise<string> => {
  const base = `${unloading.date}-${plain(unloading.kiln)}`;
  const text = `${JSON.stringify(unloading, null, 2)}\n`;
  for (let n = 1; n <= MOST_A_DAY; n++) {
    const key = n === 1 ? base : `${base}-${n}`;
    try {
      await writeNew(join(folder, `${key}${UNLOADING}`), text);
      return key;
    } catch (error) {
      if (!(error instanceof AfterfireError) || error.code !== 'bad-input') throw error;
    }
  }
  throw new AfterfireError('cannot-do', `${base}: there are ${MOST_A_DAY} unloadings of that day already.`);
};
