import { badInput } from '../error.ts';
import type { Entry, NewEntry } from '../making/record/entry.ts';
import type { PieceState } from '../making/record/piece-state.ts';
import type { Db } from './db.ts';
import { record } from './journal.ts';

export interface Piece {
  readonly id: number;
  readonly state: PieceState;
}

interface Row {
  readonly piece: number;
  readonly state: string;
}

const pieceOf = ({ piece, state }: Row): Piece => ({ id: piece, state: JSON.parse(state) });

export const pieceById = (db: Db, id: number): Piece | undefined =>
  db.all<Row>('SELECT piece, state FROM piece_state WHERE piece = ?', id).map(pieceOf)[0];

export const pieceByNumber = (db: Db, number: string): Piece | undefined =>
  db.all<Row>('SELECT piece, state FROM piece_state WHERE number = ?', number).map(pieceOf)[0];

/** Which pieces: what is left out does not matter. */
export interface Wanted {
  readonly stage?: string;
  readonly stands?: string;
  readonly form?: number;
  readonly series?: number;
  readonly firing?: number;
  /** Pieces with a smaller id, for the next page. */
  readonly before?: number;
}

const CONDITIONS: Readonly<Record<keyof Wanted, string>> = {
  stage: 'p.stage = ?',
  stands: 'p.stands = ?',
  form: 'p.form = ?',
  series: 'p.form IN (SELECT id FROM sheet_now WHERE series = ?)',
  firing: 'p.firing = ?',
  before: 'p.piece < ?',
};

/** Pieces, newest first; those taken back whole are left out. */
export const listPieces = (db: Db, wanted: Wanted = {}, most = 100): Piece[] => {
  const given = (Object.keys(CONDITIONS) as (keyof Wanted)[]).filter((key) => wanted[key] !== undefined);
  const where = ["p.stage <> 'not begun'", ...given.map((key) => CONDITIONS[key])].join(' AND ');
  return db
    .all<Row>(
      `SELECT p.piece, p.state FROM piece_state AS p WHERE ${where} ORDER BY p.piece DESC LIMIT ?`,
      ...given.map((key) => wanted[key]!),
      most,
    )
    .map(pieceOf);
};

export interface Beginning extends Pick<NewEntry, 'at_utc' | 'zone' | 'note' | 'uid'> {
  readonly number: string;
  readonly title?: string;
  readonly form?: number;
  readonly clay?: number;
}

/**
 * Begins a piece, and writes what else happened to it in the same go.
 * @param then entries without `piece`; they get that of the new one
 */
export const beginPiece = (
  db: Db,
  { number, title, form, clay, ...frame }: Beginning,
  now_utc: string,
  then: readonly Omit<NewEntry, 'piece'>[] = [],
): { readonly piece: number; readonly entries: Entry[] } =>
  db.together(() => {
    const sent = frame.uid === undefined ? undefined : pieceSentBy(db, frame.uid);
    const piece = sent ?? db.run('INSERT INTO piece DEFAULT VALUES').id;
    const data = Object.fromEntries(
      Object.entries({ number, title, form, clay }).filter(([, value]) => value !== undefined),
    );
    const entries = [{ ...frame, kind: 'begun', data }, ...then].map((entry) => ({ ...entry, piece }));
    return { piece, entries: record(db, entries, now_utc) };
  });

/** The piece that an entry sent before is about. */
const pieceSentBy = (db: Db, uid: string): number | undefined =>
  db.one<{ piece: number | null }>('SELECT piece FROM journal WHERE uid = ?', uid)?.piece ?? undefined;

/**
 * The number after the last one begun, counted on as it is written: `A-099` → `A-100`.
 * @returns `1` in an empty record; undefined where the last one does not end in figures
 */
export const nextNumber = (db: Db): string | undefined => {
  const last = db.one<{ number: string }>(
    'SELECT number FROM piece_state WHERE number IS NOT NULL ORDER BY piece DESC LIMIT 1',
  )?.number;
  if (last === undefined) return '1';
  const [, head, figures] = /^(.*?)(\d{1,12})$/.exec(last) ?? [];
  if (figures === undefined) return undefined;
  for (let n = Number(figures) + 1; ; n++) {
    const next = `${head}${String(n).padStart(figures.length, '0')}`;
    if (!pieceByNumber(db, next)) return next;
  }
};

/** The piece of this number. Throws `bad-input` naming the field. */
export const pieceNumbered = (db: Db, number: string, field = 'piece'): Piece => {
  const found = pieceByNumber(db, number);
  if (!found) throw badInput(field, number, 'the number of a piece in the record');
  return found;
};
