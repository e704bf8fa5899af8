import { badInput } from '../../error.ts';
import type { Db } from '../db.ts';
import { JOURNAL } from './0001-journal.ts';
import { WORDS } from './0002-words.ts';
import { DESCENT } from './0003-descent.ts';

/** Each step brings a file from the version of its place to the next; none is ever edited once it is out. */
const STEPS: readonly string[] = [JOURNAL, WORDS, DESCENT];

export const NEWEST = STEPS.length;

/** "Aftf": by this other programs know what the file is. */
export const APPLICATION_ID = 0x41667466;

const pragma = (db: Db, name: string): number =>
  Number(db.one<Record<string, number>>(`PRAGMA ${name}`)?.[name]);

/** The version of the file; 0 for an empty one. Throws `bad-input` where it is not ours, or newer than this program. */
export const versionOf = (db: Db): number => {
  const version = pragma(db, 'user_version');
  const ours = pragma(db, 'application_id');
  const empty = db.one<{ n: number }>('SELECT count(*) AS n FROM sqlite_schema')?.n === 0;
  if (ours !== APPLICATION_ID && !(empty && version === 0))
    throw badInput(
      db.path,
      'a database of another program',
      'a record of Afterfire, or the name of a new file',
    );
  if (version > NEWEST)
    throw badInput(
      db.path,
      `a record of version ${version}`,
      `version ${NEWEST} at most: a newer Afterfire wrote it; open it with that one. Nothing was changed`,
    );
  return version;
};

/**
 * Brings a file forward, all steps or none.
 * @param to only for tests, which need files of older versions
 * @returns the version it had
 */
export const migrate = (db: Db, to = NEWEST): number => {
  const before = versionOf(db);
  if (before >= to) return before;
  return db.together(() => {
    // Another program may have brought it forward while this one waited.
    const version = versionOf(db);
    for (const sql of STEPS.slice(version, to)) db.exec(sql);
    db.exec(`PRAGMA application_id = ${APPLICATION_ID}`);
    db.exec(`PRAGMA user_version = ${Math.max(version, to)}`);
    return version;
  });
};
