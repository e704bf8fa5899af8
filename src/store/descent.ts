import { badInput, badInputs } from '../error.ts';
import { descentFault } from '../making/record/descent.ts';
import type { Db } from './db.ts';
import { keepSeries } from './series.ts';
import { type Sheet, sheetById } from './sheets.ts';
import { keepPiece } from './states.ts';

/** What a form descends from and the series it belongs to, said anew; what was said before stays in the file. */

export interface Descent {
  readonly parent: number | null;
  /** A new one by its name; one of that name already there is taken. */
  readonly series: number | null | { readonly name: string };
}

const KEY_ROOM = 70;

/** `Shore bowls` → `shore-bowls`, and the first one free where that is taken. */
const freeKey = (db: Db, name: string): string => {
  const stem =
    name
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '')
      .slice(0, KEY_ROOM) || 'series';
  for (let n = 1; ; n++) {
    const key = n === 1 ? stem : `${stem}-${n}`;
    if (!db.one('SELECT 1 FROM series WHERE key = ?', key)) return key;
  }
};

const MOST_NAME = 80;

const seriesNamed = (db: Db, given: string): number => {
  const name = given.trim();
  if (name === '' || name.length > MOST_NAME || name.includes('\u0000'))
    throw badInput('series.name', given, `a name of 1 to ${MOST_NAME} letters`);
  const there = db.one<{ id: number }>('SELECT id FROM series WHERE name = ? COLLATE NOCASE', name);
  return there?.id ?? keepSeries(db, freeKey(db, name), name).id;
};

const formById = (db: Db, id: number, field: string): Sheet => {
  const sheet = sheetById(db, id);
  if (sheet?.kind !== 'form') throw badInput(field, id, 'a form that is in the record');
  return sheet;
};

const nameIn =
  (db: Db) =>
  (id: number): string => {
    const { name, version } = formById(db, id, 'form');
    return version > 1 ? `${name}, version ${version}` : name;
  };

/** Throws `bad-input` in words for a line of descent that would lead round to itself, or names what is not there. */
export const keepDescent = (db: Db, form: number, descent: Descent, now_utc: string): Sheet =>
  db.together(() => {
    const before = formById(db, form, 'form');
    const { parent } = descent;
    if (parent !== null) formById(db, parent, 'form.parent');
    const parentOf = new Map(
      db
        .all<{ id: number; parent: number | null }>("SELECT id, parent FROM sheet_now WHERE kind = 'form'")
        .map((row) => [row.id, row.parent]),
    );
    const fault = descentFault(form, parent, parentOf, nameIn(db));
    if (fault) throw badInputs([fault]);
    const series =
      typeof descent.series === 'object' && descent.series !== null
        ? seriesNamed(db, descent.series.name)
        : descent.series;
    if (series !== null && !db.one('SELECT 1 FROM series WHERE id = ?', series))
      throw badInput('form.series', series, 'a series that is in the record');
    if (parent === before.parent && series === before.series) return before;
    db.run(
      'INSERT INTO descent (form, parent, series, written_utc) VALUES (?, ?, ?, ?)',
      form,
      parent,
      series,
      now_utc,
    );
    // Its pieces are found by the name of its series.
    for (const { piece } of db.all<{ piece: number }>('SELECT piece FROM piece_state WHERE form = ?', form))
      keepPiece(db, piece);
    return sheetById(db, form)!;
  });
