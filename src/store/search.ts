import type { FiringState } from '../making/record/firing-state.ts';
import type { PieceState } from '../making/record/piece-state.ts';
import type { Db } from './db.ts';
import { SORTS, type Sort } from './words.ts';

export interface Hit {
  readonly sort: Sort;
  readonly id: number;
  readonly state: PieceState | FiringState;
}

/** Longer than anything one looks for; it bounds the work. */
const MOST_LETTERS = 200;

/** Every word must be there, as a whole or as a beginning; signs in it mean nothing to the search. */
const matchOf = (text: string): string | undefined => {
  const words = text
    .slice(0, MOST_LETTERS)
    .replaceAll('\u0000', ' ')
    .split(/\s+/)
    .filter((word) => /[\p{L}\p{N}]/u.test(word));
  return words.length === 0 ? undefined : words.map((word) => `"${word.replaceAll('"', '""')}"*`).join(' ');
};

const hitOf = (db: Db, rowid: number): Hit[] => {
  const sort = SORTS[rowid % 4];
  const id = Math.floor(rowid / 4);
  const row = db.one<{ state: string }>(
    sort === 'piece'
      ? "SELECT state FROM piece_state WHERE piece = ? AND stage <> 'not begun'"
      : "SELECT state FROM firing_state WHERE firing = ? AND stage <> 'not planned'",
    id,
  );
  return row ? [{ sort, id, state: JSON.parse(row.state) }] : [];
};

/**
 * Finds pieces and firings by number, title, form, series, place, month (`November 2026`, `2026-11`), what became of
 * them and the artist's own words; accents do not matter. A number given whole stands first, then the newest.
 */
export const search = (db: Db, text: string, most = 50): Hit[] => {
  const match = matchOf(text);
  if (match === undefined) return [];
  const exact = db
    .all<{ piece: number }>(
      'SELECT piece FROM piece_state WHERE number = ?',
      text.trim().replaceAll('\u0000', ''),
    )
    .map(({ piece }) => piece * 4);
  const rows = db
    .all<{ rowid: number }>(
      'SELECT rowid FROM words WHERE words MATCH ? ORDER BY rowid DESC LIMIT ?',
      match,
      most,
    )
    .map(({ rowid }) => rowid);
  return [...new Set([...exact, ...rows])].slice(0, most).flatMap((row) => hitOf(db, row));
};
