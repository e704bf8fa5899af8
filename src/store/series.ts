import { badInput } from '../error.ts';
import type { Db } from './db.ts';

/** Series: families of forms that descend from one another, and what became of their pieces. */

export interface Series {
  readonly id: number;
  readonly key: string;
  readonly name: string;
  readonly note: string;
}

export const allSeries = (db: Db): Series[] => db.all<Series>('SELECT * FROM series ORDER BY name');

/** Makes a series, or gives it another name or note. */
export const keepSeries = (db: Db, key: string, name: string, note = ''): Series => {
  if (!/^[\w-]{1,80}$/.test(key)) throw badInput('series.key', key, '1 to 80 letters, figures, - or _');
  if (name.trim() === '') throw badInput('series.name', name, 'some text');
  db.run(
    `INSERT INTO series (key, name, note) VALUES (?, ?, ?)
     ON CONFLICT (key) DO UPDATE SET name = excluded.name, note = excluded.note`,
    key,
    name,
    note,
  );
  return db.one<Series>('SELECT * FROM series WHERE key = ?', key)!;
};

/** One version of a form in the picture of its family, with what became of the pieces made to it. */
export interface FamilyMember {
  readonly form: number;
  readonly key: string;
  readonly version: number;
  readonly name: string;
  readonly parent: number | null;
  readonly series: number | null;
  readonly made_utc: string;
  readonly first_utc: string | null;
  readonly last_utc: string | null;
  readonly pieces: number;
  readonly fired: number;
  readonly sold: number;
  readonly lost: number;
}

/** The family of one series, or of all forms, oldest first. */
export const familyOf = (db: Db, series?: number): FamilyMember[] =>
  db.all<FamilyMember>(
    `SELECT f.id AS form, f.key, f.version, f.name, f.parent, f.series, f.made_utc,
       min(p.begun_utc) AS first_utc, max(p.begun_utc) AS last_utc, count(p.piece) AS pieces,
       count(*) FILTER (WHERE p.stage IN ('unloaded', 'finished') AND p.stands <> 'lost') AS fired,
       count(*) FILTER (WHERE p.stands = 'sold') AS sold,
       count(*) FILTER (WHERE p.stands = 'lost') AS lost
     FROM sheet_now AS f LEFT JOIN piece_state AS p ON p.form = f.id
     WHERE f.kind = 'form' AND (?1 IS NULL OR f.series = ?1)
     GROUP BY f.id ORDER BY f.id`,
    series ?? null,
  );
