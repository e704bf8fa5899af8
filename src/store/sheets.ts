import { badInput } from '../error.ts';
import { parseClay } from '../making/clay/clay.ts';
import { parseForm } from '../making/form/form.ts';
import { parseSchedule } from '../making/kiln/schedule.ts';
import { parseLearningLog } from '../making/learning/learning-log.ts';
import { parseUnloading } from '../making/learning/unloading.ts';
import { parseSetting } from '../making/setting-file.ts';
import type { Db } from './db.ts';

/**
 * The files a studio keeps (forms, clays, kilns, schedules, settings, unloadings, logs), each version as it was. One
 * table for all: they differ in what is inside, and that their own parsers know.
 */

export const SHEET_KINDS = [
  'form',
  'clay',
  'kiln',
  'schedule',
  'setting',
  'unloading',
  'learning',
  'test-pieces',
  'firing-log',
  'other',
] as const;
export type SheetKind = (typeof SHEET_KINDS)[number];

const PARSERS: Readonly<Partial<Record<SheetKind, (json: unknown) => unknown>>> = {
  form: parseForm,
  clay: parseClay,
  schedule: parseSchedule,
  setting: parseSetting,
  unloading: parseUnloading,
  learning: parseLearningLog,
};

export interface Sheet {
  readonly id: number;
  readonly kind: SheetKind;
  readonly key: string;
  readonly version: number;
  readonly name: string;
  /** The sheet it descends from. */
  readonly parent: number | null;
  readonly series: number | null;
  readonly made_utc: string;
  readonly zone: string;
}

const HEAD = 'id, kind, key, version, name, parent, series, made_utc, zone';

export const sheetById = (db: Db, id: number): Sheet | undefined =>
  db.one<Sheet>(`SELECT ${HEAD} FROM sheet_now WHERE id = ?`, id);

/** What the file says, as it was read when it was kept. */
export const sheetJson = (db: Db, id: number): unknown => {
  const row = db.one<{ json: string }>('SELECT json FROM sheet WHERE id = ?', id);
  if (!row) throw badInput('sheet', id, 'a sheet that is in the record');
  return JSON.parse(row.json);
};

/** The newest version under this key. */
export const newestSheet = (db: Db, kind: SheetKind, key: string): Sheet | undefined =>
  db.one<Sheet>(
    `SELECT ${HEAD} FROM sheet_now WHERE kind = ? AND key = ? ORDER BY version DESC LIMIT 1`,
    kind,
    key,
  );

/** The newest version of every sheet of a kind, by name. */
export const sheetsOfKind = (db: Db, kind: SheetKind): Sheet[] =>
  db.all<Sheet>(
    `SELECT ${HEAD} FROM sheet_now AS s WHERE kind = ? AND version =
       (SELECT max(version) FROM sheet WHERE kind = s.kind AND key = s.key) ORDER BY name, key`,
    kind,
  );

/** Every version of one sheet, the first first. */
export const versionsOf = (db: Db, kind: SheetKind, key: string): Sheet[] =>
  db.all<Sheet>(`SELECT ${HEAD} FROM sheet_now WHERE kind = ? AND key = ? ORDER BY version`, kind, key);

export interface NewSheet {
  readonly kind: SheetKind;
  readonly key: string;
  readonly json: unknown;
  /** Left out: the version before it, if there is one. */
  readonly parent?: number;
  /** Left out: that of its parent. */
  readonly series?: number;
}

const nameOf = (json: unknown, key: string): string => {
  const name = (json as { name?: unknown } | null)?.name;
  return typeof name === 'string' && name !== '' ? name : key;
};

const checkFrame = ({ kind, key, json }: NewSheet): void => {
  if (!SHEET_KINDS.includes(kind)) throw badInput('sheet.kind', kind, SHEET_KINDS.join(', '));
  if (!/^[\w-]{1,80}$/.test(key)) throw badInput('sheet.key', key, '1 to 80 letters, figures, - or _');
  if (typeof json !== 'object' || json === null || Array.isArray(json))
    throw badInput('sheet.json', json, 'a group of fields');
};

/**
 * Keeps a file as the newest version under its key. The same as the newest again: nothing is written.
 * @throws AfterfireError `bad-input` as its own parser throws it
 */
export const keepSheet = (db: Db, sheet: NewSheet, now_utc: string, zone: string): Sheet => {
  checkFrame(sheet);
  const { kind, key } = sheet;
  const json = JSON.stringify(PARSERS[kind]?.(sheet.json) ?? sheet.json);
  if (json.includes('\\u0000')) throw badInput('sheet.json', 'the control character NUL', 'text without it');
  return db.together(() => {
    const before = newestSheet(db, kind, key);
    const same = before && JSON.stringify(sheetJson(db, before.id)) === json;
    if (same && (sheet.series === undefined || sheet.series === before.series)) return before;
    const parent = sheet.parent ?? before?.id ?? null;
    const above = parent === null ? undefined : sheetById(db, parent);
    if (parent !== null && above?.kind !== kind)
      throw badInput('sheet.parent', parent, `a ${kind} that is in the record`);
    const { id } = db.run(
      `INSERT INTO sheet (kind, key, version, name, parent, series, json, made_utc, zone)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      kind,
      key,
      (before?.version ?? 0) + 1,
      nameOf(sheet.json, key),
      parent,
      sheet.series ?? above?.series ?? null,
      json,
      now_utc,
      zone,
    );
    return sheetById(db, id)!;
  });
};
