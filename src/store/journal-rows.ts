import type { Entry } from '../making/record/entry.ts';
import type { KindName } from '../making/record/kinds.ts';
import type { Db } from './db.ts';

/** Reading the journal. */

interface Row {
  readonly id: number;
  readonly at_utc: string;
  readonly zone: string;
  readonly piece: number | null;
  readonly firing: number | null;
  readonly kind: KindName;
  readonly data: string;
  readonly note: string;
  readonly undoes: number | null;
  readonly batch: number;
}

const COLUMNS = 'id, at_utc, zone, piece, firing, kind, data, note, undoes, batch';

const entryOf = (row: Row): Entry => ({
  id: row.id,
  at_utc: row.at_utc,
  zone: row.zone,
  ...(row.piece === null ? {} : { piece: row.piece }),
  ...(row.firing === null ? {} : { firing: row.firing }),
  kind: row.kind,
  data: row.data === '{}' ? {} : JSON.parse(row.data),
  note: row.note,
  ...(row.undoes === null ? {} : { undoes: row.undoes }),
  batch: row.batch,
});

const read = (db: Db, where: string, ...values: (string | number)[]): Entry[] =>
  db.all<Row>(`SELECT ${COLUMNS} FROM journal WHERE ${where} ORDER BY id`, ...values).map(entryOf);

/** All that was ever written of a piece, taken back or not, in the order of writing. */
export const entriesOfPiece = (db: Db, piece: number): Entry[] => read(db, 'piece = ?', piece);

/** What was written of the firing itself. */
export const entriesOfFiring = (db: Db, firing: number): Entry[] =>
  read(db, 'firing = ? AND piece IS NULL', firing);

export const entryById = (db: Db, id: number): Entry | undefined => read(db, 'id = ?', id)[0];
export const entryByUid = (db: Db, uid: string): Entry | undefined => read(db, 'uid = ?', uid)[0];
export const entriesOfBatch = (db: Db, batch: number): Entry[] => read(db, 'batch = ?', batch);

/** Every entry after this id, at most so many: to show, to export, to catch up. */
export const entriesAfter = (db: Db, id: number, most: number): Entry[] =>
  db.all<Row>(`SELECT ${COLUMNS} FROM journal WHERE id > ? ORDER BY id LIMIT ?`, id, most).map(entryOf);

/** The last entries written, newest first. */
export const latestEntries = (db: Db, most: number): Entry[] =>
  db.all<Row>(`SELECT ${COLUMNS} FROM journal ORDER BY id DESC LIMIT ?`, most).map(entryOf);

/** Pieces of which something was ever said in a firing. */
export const piecesNamedIn = (db: Db, firing: number): number[] =>
  db
    .all<{ piece: number }>(
      'SELECT DISTINCT piece FROM journal WHERE firing = ? AND piece IS NOT NULL ORDER BY piece',
      firing,
    )
    .map(({ piece }) => piece);
