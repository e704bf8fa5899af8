import type { Entry } from '../making/record/entry.ts';
import type { FiringState } from '../making/record/firing-state.ts';
import { monthInWords, wallClock } from '../making/record/instant.ts';
import type { PieceState } from '../making/record/piece-state.ts';
import type { Db } from './db.ts';

/** The words each piece and firing is found by. */

/** Which sort of thing a row of words is about; its rowid is four times the id plus this. */
export const SORTS = ['piece', 'firing'] as const;
export type Sort = (typeof SORTS)[number];

const rowOf = (sort: Sort, id: number): number => id * 4 + SORTS.indexOf(sort);

/** `2026-11 November` for every month in which something happened to it. */
const monthsOf = (entries: readonly Entry[]): string =>
  [...new Set(entries.map(({ at_utc, zone }) => wallClock(at_utc, zone).day.slice(0, 7)))]
    .map((month) => `${month} ${monthInWords(month)}`)
    .join(' ');

const notesOf = (entries: readonly Entry[]): string =>
  entries.flatMap(({ note }) => (note === '' ? [] : [note])).join('\n');

/** A number as written and, for who leaves the zeros out, without them: `A-007 7`. */
const numberWords = (number = ''): string =>
  [number, ...[...number.matchAll(/0+([1-9]\d*)/g)].map(([, bare]) => bare)].join(' ');

const put = (db: Db, row: number, words: readonly string[]): void => {
  db.run('DELETE FROM words WHERE rowid = ?', row);
  db.run(
    `INSERT INTO words (rowid, number, title, form, series, place, months, outcome, notes)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    row,
    ...words,
  );
};

export const putPieceWords = (db: Db, piece: number, state: PieceState, entries: readonly Entry[]): void => {
  const named =
    state.form === undefined
      ? undefined
      : db.one<{ form: string; series: string | null }>(
          `SELECT s.name AS form, series.name AS series FROM sheet_now AS s
           LEFT JOIN series ON series.id = s.series WHERE s.id = ?`,
          state.form,
        );
  const outcome = [state.stage, state.stands, state.loss?.cause ?? '', state.came ?? ''].join(' ');
  const place = [state.place, state.sale?.through, state.promised?.to].flatMap((p) => p ?? []).join(' ');
  put(db, rowOf('piece', piece), [
    numberWords(state.number),
    state.title ?? '',
    named?.form ?? '',
    named?.series ?? '',
    place,
    monthsOf(entries),
    outcome,
    notesOf(entries),
  ]);
};

export const putFiringWords = (db: Db, firing: number, state: FiringState, entries: readonly Entry[]): void =>
  put(db, rowOf('firing', firing), [
    numberWords(state.name),
    'firing',
    '',
    '',
    '',
    monthsOf(entries),
    state.stage,
    notesOf(entries),
  ]);

export const forgetAllWords = (db: Db): void => db.exec('DELETE FROM words');
