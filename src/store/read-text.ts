import { open } from 'node:fs/promises';
import { AfterfireError, badInput } from '../error.ts';

/** No form, clay or schedule that a person wrote comes near this. */
export const MAX_TEXT_BYTES = 2_000_000;

const megabytes = (bytes: number): string => `${(bytes / 1e6).toFixed(bytes < 1e7 ? 1 : 0)} MB`;

const missing = (path: string): AfterfireError =>
  new AfterfireError('not-found', `${path}: there is no such file`, [
    { field: path, value: 'nothing', expected: 'a file that exists' },
  ]);

/**
 * Reads a text file, and refuses one that is too large before a byte of it is read.
 * Throws `not-found`, `too-large`, or `bad-input` for what is no file at all.
 */
export const readText = async (path: string, maxBytes = MAX_TEXT_BYTES): Promise<string> => {
  const file = await open(path, 'r').catch((error: NodeJS.ErrnoException) => {
    throw error.code === 'ENOENT'
      ? missing(path)
      : badInput(path, error.code ?? 'unreadable', 'a readable file');
  });
  try {
    const about = await file.stat();
    if (!about.isFile()) throw badInput(path, about.isDirectory() ? 'a folder' : 'no file', 'a file');
    if (about.size > maxBytes)
      throw new AfterfireError(
        'too-large',
        `${path}: it has ${megabytes(about.size)}; at most ${megabytes(maxBytes)}`,
        [{ field: path, value: megabytes(about.size), expected: `at most ${megabytes(maxBytes)}` }],
      );
    // Some editors put a mark before the first letter; JSON does not know it.
    return (await file.readFile('utf8')).replace(/^\uFEFF/, '');
  } finally {
    await file.close();
  }
};
