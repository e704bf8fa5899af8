import { existsSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import Database from 'libsql';
import { sqlTrouble } from './sql-error.ts';

/**
 * The one door to the driver. What is known of the driver (libsql 0.5.29) stands here: a truth value as parameter ends
 * the process, a NaN becomes NULL, a NUL ends a text, `get` adds a field of its own, and its read-only option does
 * nothing. So parameters are looked at first, rows are read by `all`, and read-only goes by the file's address.
 */

export type SqlValue = null | number | string;

export interface Db {
  readonly path: string;
  readonly all: <T>(sql: string, ...values: readonly SqlValue[]) => T[];
  readonly one: <T>(sql: string, ...values: readonly SqlValue[]) => T | undefined;
  readonly run: (
    sql: string,
    ...values: readonly SqlValue[]
  ) => { readonly changes: number; readonly id: number };
  /** Several statements at once, without parameters. */
  readonly exec: (sql: string) => void;
  /** All of it or nothing of it; inside another it is part of that one. */
  readonly together: <T>(work: () => T) => T;
  readonly close: () => void;
}

const checked = (values: readonly SqlValue[]): SqlValue[] => {
  for (const value of values) {
    const right =
      value === null || (typeof value === 'string' ? !value.includes('\u0000') : Number.isFinite(value));
    if (!right) throw new TypeError(`not a value for the database: ${String(value)} (${typeof value})`);
  }
  return [...values];
};

const connect = (path: string, address: string, busy_ms: number): Db => {
  const asWords = <T>(work: () => T): T => {
    try {
      return work();
    } catch (error) {
      throw sqlTrouble(error, path);
    }
  };
  const driver = asWords(() => new Database(address, { timeout: busy_ms }));
  const statements = new Map<string, Database.Statement>();
  const prepared = (sql: string): Database.Statement => {
    const known = statements.get(sql);
    if (known) return known;
    const made = driver.prepare(sql);
    statements.set(sql, made);
    return made;
  };
  const all = <T>(sql: string, ...values: readonly SqlValue[]): T[] =>
    asWords(() => prepared(sql).all(checked(values)) as T[]);
  const exec = (sql: string): void => {
    asWords(() => driver.exec(sql));
  };
  const together = <T>(work: () => T): T => {
    if (driver.inTransaction) return work();
    exec('BEGIN IMMEDIATE');
    try {
      const result = work();
      exec('COMMIT');
      return result;
    } catch (error) {
      // A full disk has rolled back already.
      if (driver.inTransaction) driver.exec('ROLLBACK');
      throw error;
    }
  };
  return {
    path,
    all,
    one: <T>(sql: string, ...values: readonly SqlValue[]) => all<T>(sql, ...values)[0],
    run: (sql, ...values) => {
      const { changes, lastInsertRowid } = asWords(() => prepared(sql).run(checked(values)));
      return { changes, id: Number(lastInsertRowid) };
    },
    exec,
    together,
    close: () => {
      statements.clear();
      driver.close();
    },
  };
};

/** How long one program waits for another to finish a write. */
const BUSY_MS = 5000;

/** Opens a database for writing, made when it is not there. */
export const openDb = (path: string, busy_ms = BUSY_MS): Db => {
  const db = connect(path, path, busy_ms);
  try {
    db.exec('PRAGMA foreign_keys = ON');
    // Another program may be opening it at this very moment; then it is in this mode already.
    if (db.one<{ journal_mode: string }>('PRAGMA journal_mode')?.journal_mode !== 'wal')
      db.all('PRAGMA journal_mode = WAL');
    // Every acknowledged entry is on the disk itself, not only in the system's memory.
    db.exec('PRAGMA synchronous = FULL');
    // REPLACE would delete rows behind the back of the triggers that forbid it.
    db.exec('PRAGMA recursive_triggers = ON');
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
};

/** Opens a file that must be there, to look at and not to change: a backup, say, on a disk that cannot be written. */
export const openDbToRead = (path: string): Db => {
  const url = pathToFileURL(path);
  // With a log beside it the file alone is not the whole of it.
  url.search = existsSync(`${path}-wal`) ? '?mode=ro' : '?mode=ro&immutable=1';
  return connect(path, url.href, BUSY_MS);
};
