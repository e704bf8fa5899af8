import { access } from 'node:fs/promises';
import { badInput } from '../error.ts';
import type { Clay } from '../making/clay/clay.ts';
import { writeNew } from '../store/write-file.ts';
import type { Io } from './io.ts';

/** Looks before the work whether a new clay file may be made there. Throws `bad-input` naming `--clay`. */
export const checkNewClay = async (path: string | undefined): Promise<void> => {
  if (path === undefined) return;
  if (!path.endsWith('.clay.json')) throw badInput('--clay', path, 'a name ending in .clay.json');
  const taken = await access(path).then(
    () => true,
    () => false,
  );
  if (taken)
    throw badInput('--clay', path, 'a name not yet taken: a clay file that is there is never written over');
};

/** Writes a clay as a new file; the one it came from stays as it is. */
export const keepClay = async (path: string, clay: Clay, io: Io): Promise<void> => {
  await writeNew(path, `${JSON.stringify(clay, null, 2)}\n`);
  io.err(`wrote ${path}\n`);
};
