import { existsSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { AfterfireError, badInput } from '../error.ts';
import { type Db, openDb } from './db.ts';
import { keepEntryCheck } from './entry-check.ts';
import { migrate, NEWEST, versionOf } from './migrations/migrations.ts';
import { rebuildStates } from './states.ts';

/** A studio's record, open: one SQLite file, and beside it the folders of its photos and backups. */
export interface StudioRecord {
  readonly db: Db;
  readonly path: string;
  readonly photos: string;
  readonly backups: string;
}

export const RECORD_ENDING = '.sqlite';

/** Where the photos and backups of a record lie: beside it, by its name. */
export const foldersOf = (path: string): { readonly photos: string; readonly backups: string } => {
  const stem = basename(path, RECORD_ENDING);
  return { photos: join(dirname(path), `${stem}.photos`), backups: join(dirname(path), `${stem}.backups`) };
};

const checkPath = (given: string): string => {
  if (given.includes('\u0000') || !given.endsWith(RECORD_ENDING))
    throw badInput('record', given, `a file ending in ${RECORD_ENDING}`);
  // Absolute, so that nothing the driver takes for an address of another kind reaches it.
  return resolve(given);
};

/**
 * Opens a record and brings it forward.
 * @param make whether a file that is not there is made
 * @throws AfterfireError `not-found`; `bad-input` for a file that is damaged, of another program or of a newer Afterfire;
 *   `cannot-do` where the folder cannot be written or the disk is full
 */
export const openRecord = (
  given: string,
  { make = false }: { readonly make?: boolean } = {},
): StudioRecord => {
  const path = checkPath(given);
  if (!make && !existsSync(path))
    throw new AfterfireError(
      'not-found',
      `${given}: there is no such record (afterfire record new makes one)`,
    );
  if (!existsSync(dirname(path)))
    throw new AfterfireError('not-found', `${dirname(given)}: there is no such folder`);
  const db = openDb(path);
  try {
    if (!make && versionOf(db) === 0)
      throw badInput(
        given,
        'an empty file',
        'a whole record; a backup can take its place (afterfire record restore)',
      );
    const before = migrate(db);
    keepEntryCheck(db);
    if (before > 0 && before < NEWEST) rebuildStates(db);
    return { db, path, ...foldersOf(path) };
  } catch (error) {
    db.close();
    throw error;
  }
};

/** Makes a new record. Throws `cannot-do` where a file of that name is there already. */
export const newRecord = (given: string): StudioRecord => {
  if (existsSync(checkPath(given)))
    throw new AfterfireError(
      'cannot-do',
      `${given}: there is a file of that name already; it was not touched`,
    );
  return openRecord(given, { make: true });
};

/** Brings all of it into the one file and lets go of it. */
export const closeRecord = ({ db }: StudioRecord): void => {
  try {
    db.all('PRAGMA wal_checkpoint(TRUNCATE)');
  } finally {
    db.close();
  }
};

export interface Soundness {
  readonly version: number;
  /** What SQLite itself says of the file; empty when it is whole. */
  readonly damage: readonly string[];
  readonly counts: Readonly<Record<'pieces' | 'firings' | 'entries' | 'sheets' | 'photos', number>>;
}

/** SQLite's own checks of structure and of references, and how much there is. */
export const soundnessOf = (db: Db): Soundness => {
  const version = versionOf(db);
  const damage = [
    ...db
      .all<{ integrity_check: string }>('PRAGMA integrity_check')
      .map((row) => row.integrity_check)
      .filter((said) => said !== 'ok'),
    ...db
      .all<{ table: string; rowid: number; parent: string }>('PRAGMA foreign_key_check')
      .map(({ table, rowid, parent }) => `${table} ${rowid} points to no ${parent}`),
  ];
  const count = (table: string): number =>
    db.one<{ n: number }>(`SELECT count(*) AS n FROM ${table}`)?.n ?? 0;
  return {
    version,
    damage,
    counts: {
      pieces: count('piece'),
      firings: count('firing'),
      entries: count('journal'),
      sheets: count('sheet'),
      photos: count('photo'),
    },
  };
};
