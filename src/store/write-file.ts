import { link, open, rename, stat, unlink } from 'node:fs/promises';
import { dirname } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { AfterfireError, badInput } from '../error.ts';

/**
 * Files are written whole or not at all: beside their place, down to the disk, then moved there in one step
 * (POSIX: rename and link are atomic). What stood there before is lost in no case.
 */

const WORDS: Readonly<Record<string, string>> = {
  ENOSPC: 'the disk is full; make room and do it again',
  EDQUOT: 'the disk is full; make room and do it again',
  EIO: 'the disk did not take it; look at the disk and do it again',
  EROFS: 'this disk cannot be written to',
  EACCES: 'it, or the folder it lies in, may not be written to',
  EPERM: 'it, or the folder it lies in, may not be written to',
  ENOENT: 'the folder is not there',
  ENOTDIR: 'what should be its folder is a file',
};

/** Trouble with the disk in words a person can act on; all else is passed on as it is. */
export const diskTrouble = (error: unknown, path: string): unknown => {
  const said = WORDS[(error as NodeJS.ErrnoException).code ?? ''];
  return said === undefined
    ? error
    : new AfterfireError(
        'cannot-do',
        `${path}: ${said}. Nothing of this was written and nothing before it is lost.`,
      );
};

const codeOf = (error: unknown): string | undefined => (error as NodeJS.ErrnoException).code;

/** So that the name itself survives a power cut; Windows knows no such thing. */
const keepName = async (folder: string): Promise<void> => {
  const handle = await open(folder, 'r').catch(() => undefined);
  await handle?.sync().catch(() => {});
  await handle?.close();
};

const WAIT_ms = 40;
const PATIENCE_ms = 4000;
/** A write takes milliseconds; what lies there longer was left by a program that was killed. */
const LEFT_OVER_ms = 30_000;

/** The file beside it, which only one writer at a time can make: so it is the lock as well. */
const openBeside = async (path: string) => {
  const beside = `${path}.new`;
  for (let waited = 0; ; waited += WAIT_ms) {
    try {
      return await open(beside, 'wx');
    } catch (error) {
      if (codeOf(error) !== 'EEXIST') throw error;
      const since = await stat(beside).then(
        (s) => s.mtimeMs,
        () => undefined,
      );
      if (since !== undefined && Date.now() - since > LEFT_OVER_ms) await unlink(beside).catch(() => {});
      else if (waited > PATIENCE_ms)
        throw new AfterfireError(
          'cannot-do',
          `${path}: another program is writing to it and did not finish in time. Nothing of this was written; do it again.`,
        );
      await setTimeout(WAIT_ms);
    }
  }
};

/** Makes the text while nobody else can write to the file, and moves it into its place by `move`. */
const written = async <T>(
  path: string,
  make: () => Promise<{ readonly text: string; readonly value: T }>,
  move: (beside: string) => Promise<void>,
): Promise<T> => {
  const beside = `${path}.new`;
  try {
    const file = await openBeside(path);
    try {
      const { text, value } = await make();
      await file.writeFile(text);
      await file.sync();
      await file.close();
      await move(beside);
      await keepName(dirname(path));
      return value;
    } catch (error) {
      await file.close().catch(() => {});
      await unlink(beside).catch(() => {});
      throw error;
    }
  } catch (error) {
    throw diskTrouble(error, path);
  }
};

/**
 * Changes a file: `next` reads what is there and makes what shall be, with nobody writing in between.
 * Throws `cannot-do` where the disk does not take it; the file is then as it was.
 */
export const changeFile = <T>(
  path: string,
  next: () => Promise<{ readonly text: string; readonly value: T }>,
): Promise<T> => written(path, next, (beside) => rename(beside, path));

/** Some disks (exFAT) know no second names: then the file is made in place, where nothing stood. */
const intoFreePlace = async (path: string, beside: string, text: string): Promise<void> => {
  try {
    await link(beside, path);
  } catch (error) {
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS'].includes(codeOf(error) ?? '')) throw error;
    const file = await open(path, 'wx');
    try {
      await file.writeFile(text);
      await file.sync();
    } catch (half) {
      await unlink(path);
      throw half;
    } finally {
      await file.close();
    }
  }
  await unlink(beside);
};

/** Writes a file where none is. Throws `bad-input` where there is one, `cannot-do` where the disk does not take it. */
export const writeNew = async (path: string, text: string): Promise<void> => {
  try {
    await written(
      path,
      async () => ({ text, value: undefined }),
      (beside) => intoFreePlace(path, beside, text),
    );
  } catch (error) {
    if (codeOf(error) !== 'EEXIST') throw error;
    throw badInput(path, 'a file that is there already', 'a name not yet taken: nothing is overwritten');
  }
};
