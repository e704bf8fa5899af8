import type { Entry } from '../making/record/entry.ts';
import { wallClock } from '../making/record/instant.ts';
import { kindOf } from '../making/record/kinds.ts';
import { standing } from '../making/record/standing.ts';
import { type PaperPiece, pieceAddress } from '../making/record-paper/paper-piece.ts';
import type { SheetPiece } from '../making/record-paper/piece-sheet.ts';
import type { Db } from './db.ts';
import { firingById } from './firings.ts';
import { entriesOfPiece } from './journal-rows.ts';
import { pieceNumbered } from './pieces.ts';
import { sheetById } from './sheets.ts';

/** What papers say of pieces, out of the record. */

export interface Addressed {
  /** The studio's name, or the address of its page where that stays. */
  readonly studio: string;
  readonly page?: string;
}

const seriesName = (db: Db, id: number | null | undefined): string | undefined =>
  id === null || id === undefined
    ? undefined
    : db.one<{ name: string }>('SELECT name FROM series WHERE id = ?', id)?.name;

const dayOf = (entry: Entry): string => wallClock(entry.at_utc, entry.zone).day;

/** Throws `bad-input` for a number that no piece has. */
export const paperPiece = (db: Db, number: string, { studio, page }: Addressed): PaperPiece => {
  const { id, state } = pieceNumbered(db, number, '--pieces');
  const form = state.form === undefined ? undefined : sheetById(db, state.form);
  const begun = standing(entriesOfPiece(db, id)).find(({ kind }) => kind === 'begun');
  return {
    number,
    title: state.title,
    form: form?.name,
    series: seriesName(db, form?.series),
    clay: state.clay === undefined ? undefined : sheetById(db, state.clay)?.name,
    begun: begun && dayOf(begun),
    address: pieceAddress(studio, number, page),
    state,
  };
};

export const sheetPiece = (db: Db, number: string, addressed: Addressed): SheetPiece => {
  const piece = paperPiece(db, number, addressed);
  const { id } = pieceNumbered(db, number);
  const { firings, firing } = piece.state;
  const all = [...new Set([...firings, ...(firing === undefined ? [] : [firing])])];
  return {
    ...piece,
    firings: all.flatMap((f) => firingById(db, f)?.state.name ?? []),
    notes: standing(entriesOfPiece(db, id))
      .filter(({ note }) => note.trim() !== '')
      .map((entry) => ({ day: dayOf(entry), what: kindOf(entry.kind).says, words: entry.note })),
  };
};
