import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { AfterfireError, badInput } from '../error.ts';
import { wallClock } from '../making/record/instant.ts';
import { type Db, openDbToRead } from './db.ts';
import { sha256OfFile } from './file-hash.ts';
import { versionOf } from './migrations/migrations.ts';
import { allPhotos, photoPath, syncFile, writeWhole } from './photos.ts';
import {
  closeRecord,
  foldersOf,
  openRecord,
  RECORD_ENDING,
  type Soundness,
  type StudioRecord,
  soundnessOf,
} from './record.ts';
import { readSettings } from './settings.ts';

/**
 * Dated backups: a copy of the record as of one moment, its SHA-256 in a small file beside it (as `sha256sum -c` reads
 * it), and the photos in a folder that all backups share, since a photo never changes.
 */

export const BACKUP_NAME = /^(.+)-(\d{4}-\d\d-\d\d)T(\d\d)(\d\d)(\d\d)Z\.sqlite$/;
const PHOTOS = 'photos';

export interface Backup {
  readonly path: string;
  readonly at_utc: string;
}

/** The backups in a folder, newest first. */
export const listBackups = (folder: string): Backup[] => {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .flatMap((name) => {
      const [, , day, h, m, s] = BACKUP_NAME.exec(name) ?? [];
      return day === undefined ? [] : [{ path: join(folder, name), at_utc: `${day}T${h}:${m}:${s}.000Z` }];
    })
    .sort((a, b) => (a.at_utc < b.at_utc ? 1 : -1));
};

/** Writes the record as of now into one file, complete and on the disk. */
export const copyRecord = (db: Db, path: string): void => {
  const part = `${path}.part`;
  rmSync(part, { force: true });
  try {
    db.all('VACUUM INTO ?', part);
    syncFile(part);
    renameSync(part, path);
  } catch (error) {
    rmSync(part, { force: true });
    throw error;
  }
};

const copyPhotos = (record: StudioRecord, folder: string): string[] => {
  const missing: string[] = [];
  for (const { sha256, format } of allPhotos(record.db)) {
    const to = photoPath(join(folder, PHOTOS), sha256, format);
    if (existsSync(to)) continue;
    const from = photoPath(record.photos, sha256, format);
    if (!existsSync(from) || sha256OfFile(from) !== sha256) missing.push(sha256);
    else writeWhole(dirname(to), to, readFileSync(from));
  }
  return missing;
};

export interface BackupMade extends Backup {
  /** Photos that were not there, or damaged, and so are not in the backup either. */
  readonly missingPhotos: readonly string[];
}

/** Makes a backup, looks whether it is sound, and only then lets old ones go. */
export const makeBackup = (
  record: StudioRecord,
  now_utc: string,
  folder = record.backups,
  keep: Keep = USUAL,
): BackupMade => {
  const stem = basename(record.path, RECORD_ENDING);
  const stamp = `${now_utc.slice(0, 19).replaceAll(':', '')}Z`;
  const path = join(folder, `${stem}-${stamp}${RECORD_ENDING}`);
  try {
    mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw badInput(
      'backups',
      `${folder} (${(error as NodeJS.ErrnoException).code})`,
      'a folder that can be written to',
    );
  }
  const missingPhotos = copyPhotos(record, folder);
  copyRecord(record.db, path);
  const line = `${sha256OfFile(path)}  ${basename(path)}\n`;
  writeWhole(folder, `${path}.sha256`, new TextEncoder().encode(line));
  checkBackup(path);
  const backups = listBackups(folder);
  const kept = backupsToKeep(
    backups.map(({ at_utc }) => at_utc),
    readSettings(record.db).zone,
    keep,
  );
  for (const old of backups)
    if (!kept.has(old.at_utc))
      for (const file of [old.path, `${old.path}.sha256`]) rmSync(file, { force: true });
  return { path, at_utc: now_utc, missingPhotos };
};

export interface Keep {
  readonly days: number;
  readonly weeks: number;
}
const USUAL: Keep = { days: 7, weeks: 8 };

/** The newest of each of the last days and of each of the last weeks (from Monday) that have one, by the studio's calendar. */
export const backupsToKeep = (
  at_utc: readonly string[],
  zone: string,
  { days, weeks }: Keep,
): Set<string> => {
  const newestFirst = at_utc.toSorted().reverse();
  const day = (at: string): number => Date.parse(`${wallClock(at, zone).day}T00:00:00Z`) / 86_400_000;
  const firstOf = (key: (at: string) => number, most: number): string[] => {
    const seen = new Map<number, string>();
    for (const at of newestFirst) if (!seen.has(key(at)) && seen.size < most) seen.set(key(at), at);
    return [...seen.values()];
  };
  // 1 January 1970 was a Thursday.
  return new Set([...firstOf(day, days), ...firstOf((at) => Math.floor((day(at) + 3) / 7), weeks)]);
};

/** Makes today's backup if there is none of today yet. */
export const backupIfDue = (record: StudioRecord, now_utc: string, zone: string): BackupMade | undefined => {
  const today = wallClock(now_utc, zone).day;
  const [last] = listBackups(record.backups);
  if (last && wallClock(last.at_utc, zone).day === today) return undefined;
  return makeBackup(record, now_utc);
};

/**
 * Looks whether a copy of a record is whole: its SHA-256 where one lies beside it, then SQLite's own checks.
 * @throws AfterfireError `not-found`; `bad-input` naming what is wrong
 */
export const checkBackup = (path: string): Soundness => {
  if (!existsSync(path)) throw new AfterfireError('not-found', `${path}: there is no such file`);
  const beside = `${path}.sha256`;
  if (existsSync(beside) && readFileSync(beside, 'utf8').slice(0, 64) !== sha256OfFile(path))
    throw badInput(
      path,
      'a copy that differs from what was backed up',
      'a whole copy: copy it again, or take another backup',
    );
  const db = openDbToRead(path);
  try {
    if (versionOf(db) === 0) throw badInput(path, 'an empty file', 'a record of Afterfire');
    const found = soundnessOf(db);
    if (found.damage.length > 0)
      throw badInput(
        path,
        `a damaged copy: ${found.damage[0]}`,
        'a whole copy: copy it again, or take another backup',
      );
    return found;
  } finally {
    db.close();
  }
};

/** Every file that belongs to an open record's database. */
const WITH_LOG = ['', '-wal', '-shm'];

/** Moves a record that nobody has open out of the way; gives its new path. Its photos stay for the one that takes its place. */
export const moveAside = (path: string, now_utc: string): string | undefined => {
  if (!existsSync(path)) return undefined;
  const stamp = now_utc.slice(0, 19).replaceAll(':', '');
  const aside = `${path.slice(0, -RECORD_ENDING.length)}.before-${stamp}${RECORD_ENDING}`;
  for (const end of WITH_LOG) if (existsSync(path + end)) renameSync(path + end, aside + end);
  return aside;
};

/**
 * Puts a backup in the place of a record. What is there is moved aside, not deleted. Nobody may have it open.
 * @returns where the record that was there went
 */
export const restoreBackup = (backup: string, target: string, now_utc: string): string | undefined => {
  checkBackup(backup);
  const part = `${target}.part`;
  copyFileSync(backup, part);
  syncFile(part);
  const aside = moveAside(target, now_utc);
  renameSync(part, target);
  const record = openRecord(target);
  try {
    const pool = join(dirname(backup), PHOTOS);
    for (const { sha256, format } of allPhotos(record.db)) {
      const [from, to] = [pool, foldersOf(target).photos].map((folder) => photoPath(folder, sha256, format));
      if (existsSync(from) && !(existsSync(to) && sha256OfFile(to) === sha256))
        writeWhole(dirname(to), to, readFileSync(from));
    }
  } finally {
    closeRecord(record);
  }
  return aside;
};
