import { AfterfireError, badInput } from '../error.ts';

/** What the database says by its codes, in words a person can act on. */
const WORDS: readonly (readonly [RegExp, (path: string, said: string) => AfterfireError])[] = [
  [
    /^SQLITE_NOTADB|^SQLITE_CORRUPT/,
    (path) =>
      badInput(
        path,
        'a file that is damaged, or not a record of Afterfire',
        'a whole record; a backup can take its place (afterfire record restore)',
      ),
  ],
  [
    /^SQLITE_FULL/,
    (path) =>
      new AfterfireError(
        'cannot-do',
        `${path}: the disk is full. Nothing of this was written and nothing before it is lost; make room and do it again`,
      ),
  ],
  [
    /^SQLITE_IOERR/,
    (path, said) =>
      new AfterfireError(
        'cannot-do',
        `${path}: the disk did not take it (${said}). Nothing of this was written and nothing before it is lost; look at the disk and do it again`,
      ),
  ],
  [
    /^SQLITE_BUSY|^SQLITE_LOCKED/,
    (path) =>
      new AfterfireError(
        'cannot-do',
        `${path}: another program is writing to it and did not finish in time. Nothing of this was written; do it again`,
      ),
  ],
  [
    /^SQLITE_READONLY|^SQLITE_CANTOPEN|^SQLITE_PERM/,
    (path) =>
      new AfterfireError(
        'cannot-do',
        `${path}: it, or the folder it lies in, cannot be written to. Move it where you may write, or ask for that right`,
      ),
  ],
];

const codeOf = (error: unknown): string => {
  const { code, message } = error as { code?: string; message?: string };
  if (code) return code;
  // A connection that fails to open gives the bare number at the end of its message.
  return /ConnectionFailed.*: 14"?\)?$/.test(message ?? '') ? 'SQLITE_CANTOPEN' : '';
};

/** A driver's error → ours, where it is trouble from outside; all else is passed on as it is. */
export const sqlTrouble = (error: unknown, path: string): unknown => {
  const code = codeOf(error);
  const found = WORDS.find(([pattern]) => pattern.test(code));
  return found ? found[1](path, (error as Error).message) : error;
};
