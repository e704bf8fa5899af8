import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AfterfireError } from '../src/error.ts';
import { type Field, KIND_NAMES, type KindName, kindOf } from '../src/making/record/kinds.ts';
import type { Db } from '../src/store/db.ts';
import { record } from '../src/store/journal.ts';
import { latestEntries } from '../src/store/journal-rows.ts';
import { closeRecord, newRecord, type StudioRecord } from '../src/store/record.ts';
import { chance, oneOf, type Throw, whole } from './dice.ts';

/** What tests and benches of the record share. */

export const ZONE = 'Europe/Berlin';

/** A folder of its own, gone afterwards. */
export const inFolder = async <T>(work: (folder: string) => T | Promise<T>): Promise<T> => {
  const folder = mkdtempSync(join(tmpdir(), 'afterfire-record-'));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** A new record in a folder of its own. */
export const withRecord = <T>(work: (record: StudioRecord) => T | Promise<T>): Promise<T> =>
  inFolder(async (folder) => {
    const made = newRecord(join(folder, 'studio.sqlite'));
    try {
      return await work(made);
    } finally {
      closeRecord(made);
    }
  });

/** Instants one after another, an hour apart, from a Monday in January 2026. */
export const hourByHour = (): (() => string) => {
  let ms = Date.UTC(2026, 0, 5, 8);
  return () => new Date((ms += 3_600_000)).toISOString();
};

/** SQLite's own program, an independent reader of our files; undefined where it is not installed. */
export const sqlite3 = (path: string, sql: string): string | undefined => {
  const run = spawnSync('sqlite3', ['-readonly', path, sql], { encoding: 'utf8' });
  if (run.error) return undefined;
  return `${run.stdout}${run.stderr}`.trim();
};

/** Says loudly that an outside tool is not there, so that a skipped check is seen. */
export const missing = (tool: string): void =>
  console.warn(`!! ${tool} IS NOT INSTALLED: its check was skipped`);

const randomValue = (between: Throw, field: Field, ids: (of: string) => string | number): string | number => {
  switch (field.type) {
    case 'number': {
      const value = between(field.least, Math.min(field.most, field.least + 1000));
      return field.whole ? Math.ceil(value) : value;
    }
    case 'text':
      return oneOf(between, [
        'EUR',
        'the shelf by the door',
        'Œuvre "quoted", 3 × 4',
        '=SUM(A1)',
        "O'Neill",
      ]).slice(0, field.most);
    case 'choice':
      return oneOf(between, field.of);
    case 'day':
      return `2026-0${whole(between, 1, 9)}-1${whole(between, 0, 9)}`;
    case 'sheet':
      return ids(field.of);
    case 'photo':
      return ids('photo');
  }
};

/** Data that one kind of entry may have, with some of its fields left out. */
export const randomData = (
  between: Throw,
  kind: KindName,
  ids: (of: string) => string | number,
): Record<string, string | number> =>
  Object.fromEntries(
    Object.entries(kindOf(kind).fields).flatMap(([name, field]) => {
      if (field.type === 'sheet' || (!field.needed && chance(between, 0.4))) return [];
      const value = name === 'currency' ? 'EUR' : randomValue(between, field, ids);
      return [[name, value]];
    }),
  );

/** What brings a piece on; drawn more often, so that many get as far as being sold. */
const ONWARD: readonly KindName[] = [
  'formed',
  'dry',
  'set',
  'set',
  'set',
  'fired',
  'fired',
  'off',
  'unloaded',
  'unloaded',
  'finished',
  'finished',
  'undone',
];

export interface Tried {
  readonly written: number;
  readonly refused: number;
}

/**
 * Tries random entries on random pieces and firings; most cannot be and are refused.
 * @param step called after each, with whether it was written
 */
export const tryRandomEntries = (
  db: Db,
  between: Throw,
  given: { readonly tries: number; readonly pieces: readonly number[]; readonly firings: readonly number[] },
  next: () => string,
  ids: (of: string) => string | number,
  step: (written: boolean) => void = () => {},
): Tried => {
  let written = 0;
  for (let i = 0; i < given.tries; i++) {
    const kind = oneOf(between, chance(between, 0.6) ? ONWARD : KIND_NAMES);
    const { of, inFiring } = kindOf(kind);
    const ofPiece = of === 'piece' || (of === 'either' && chance(between, 0.8));
    const at_utc = next();
    const undone = oneOf(between, latestEntries(db, 12));
    const entry =
      kind === 'undone'
        ? { at_utc, zone: ZONE, piece: undone.piece, firing: undone.firing, kind, undoes: undone.id }
        : {
            at_utc,
            zone: ZONE,
            ...(ofPiece ? { piece: oneOf(between, given.pieces) } : {}),
            ...(!ofPiece || inFiring ? { firing: oneOf(between, given.firings) } : {}),
            kind,
            data: randomData(between, kind, ids),
            note: kind === 'noted' || chance(between, 0.2) ? 'a note, in a few words' : '',
          };
    try {
      record(db, [entry], at_utc);
      written++;
      step(true);
    } catch (error) {
      if (!(error instanceof AfterfireError) || error.code !== 'bad-input') throw error;
      step(false);
    }
  }
  return { written, refused: given.tries - written };
};

/** All that follows from the journal, as text: to compare before and after a rebuild. */
export const derived = (db: Db): string =>
  JSON.stringify([
    db.all('SELECT * FROM piece_state ORDER BY piece'),
    db.all('SELECT * FROM firing_state ORDER BY firing'),
    db.all('SELECT rowid, * FROM words ORDER BY rowid'),
  ]);
