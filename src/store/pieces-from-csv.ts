import Papa from 'papaparse';
import { AfterfireError, badInput, badInputs, type Fault } from '../error.ts';
import type { NewEntry } from '../making/record/entry.ts';
import { instantOf, wallClock } from '../making/record/instant.ts';
import { atLeast, type Stage } from '../making/record/piece-state.ts';
import type { Db } from './db.ts';
import { endFiring, lightFiring, openFiring, planFiring } from './firings.ts';
import { record } from './journal.ts';
import { firstEntries, type Happened, type Line, lastEntries, stageOf } from './line-entries.ts';
import { beginPiece, pieceByNumber } from './pieces.ts';
import { asWritten, COLUMNS } from './pieces-csv.ts';
import { readSettings } from './settings.ts';
import { newestSheet } from './sheets.ts';

/**
 * Pieces from a table: each line becomes a piece with the entries it takes to stand where the line says. Days are all a
 * table knows, so everything of a day happened at noon. All lines come in or none.
 */

const MOST_LINES = 50_000;
const MOST_FAULTS = 50;
/** The firing of pieces of which the table names none. */
const FORMERLY = 'before this record';

const linesOf = (text: string): Line[] => {
  const { data, errors } = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), { skipEmptyLines: 'greedy' });
  const broken = errors.find(({ type }) => type === 'Quotes');
  if (broken)
    throw badInput(
      `table, line ${(broken.row ?? 0) + 1}`,
      broken.message,
      'quotes closed as RFC 4180 has it',
    );
  const [head = [], ...rows] = data;
  const names = head.map((name) => name.trim().toLowerCase());
  const unknown = names.filter((name) => !COLUMNS.some((column) => column === name));
  if (unknown.length > 0)
    throw badInput('table, first line', unknown.join(', '), `columns out of ${COLUMNS.join(', ')}`);
  if (!names.includes('number')) throw badInput('table, first line', names.join(', '), 'a column "number"');
  if (rows.length > MOST_LINES) throw badInput('table', `${rows.length} lines`, `at most ${MOST_LINES}`);
  return rows.map((row) =>
    Object.fromEntries(names.flatMap((name, i) => (row[i] ? [[name, asWritten(row[i])]] : []))),
  );
};

interface Context {
  readonly db: Db;
  readonly zone: string;
  readonly currency: string;
  readonly now_utc: string;
  readonly today: string;
}

const noon = (day: string, { zone, now_utc }: Context): string => {
  const at = instantOf(`${day} 12:00`, zone);
  return at > now_utc ? now_utc : at;
};

const sheetNamed = (db: Db, kind: 'form' | 'clay', key: string | undefined): Record<string, number> => {
  if (key === undefined) return {};
  const found = newestSheet(db, kind, key);
  if (!found) throw badInput(kind, key, `the key of a ${kind} that is in the record`);
  return { [kind]: found.id };
};

/** A line of the table while it becomes a piece. */
interface Coming {
  readonly line: Line;
  readonly at: string;
  readonly stage: Stage;
  readonly piece: number;
  /** The day on which the last of it happened, but for its sale. */
  readonly day: string;
  readonly firing: string | undefined;
}

const begin = (line: Line, at: string, context: Context): Coming => {
  const { db, zone, now_utc, today } = context;
  const number = line.number ?? '';
  if (pieceByNumber(db, number)) throw badInput('number', number, 'a number that is not in the record yet');
  const stage = stageOf(line);
  const begun = line.begun ?? line.fired ?? today;
  const frame = { at_utc: noon(begun, context), zone };
  const then = firstEntries(line, stage).map((entry): Omit<NewEntry, 'piece'> => ({ ...frame, ...entry }));
  const title = line.title === undefined ? {} : { title: line.title };
  const sheets = { ...sheetNamed(db, 'form', line.form), ...sheetNamed(db, 'clay', line.clay) };
  const { piece } = beginPiece(db, { ...frame, number, ...title, ...sheets }, now_utc, then);
  const firing = atLeast(stage, 'unloaded') ? (line.firing ?? FORMERLY) : undefined;
  return { line, at, stage, piece, day: line.fired ?? begun, firing };
};

/** All of one firing, on the latest of the days its lines say. */
const fire = (name: string, pieces: readonly Coming[], context: Context): string => {
  const { db, zone, now_utc } = context;
  const day = pieces
    .map((piece) => piece.day)
    .sort()
    .at(-1)!;
  const when = { at_utc: noon(day, context), zone };
  const { firing } = planFiring(db, { ...when, name }, now_utc);
  const set = pieces.map(({ piece }) => ({ ...when, piece, firing, kind: 'set' }));
  record(db, set, now_utc);
  lightFiring(db, firing, when, now_utc);
  endFiring(db, firing, when, now_utc);
  openFiring(db, firing, when, [], now_utc);
  return day;
};

const end = ({ line, stage, piece, day }: Coming, context: Context): void => {
  const frame = { piece, at_utc: noon(line.sold ?? day, context), zone: context.zone };
  const entries = lastEntries(line, stage, context.currency).map((entry: Happened) => ({
    ...frame,
    ...entry,
  }));
  record(context.db, entries, context.now_utc);
};

/** Runs the work of one line; what is wrong in it is gathered, so that a person mends all of it in one go. */
const attempt = <T>(at: string, faults: Fault[], work: () => T): T | undefined => {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof AfterfireError) || error.faults.length === 0) throw error;
    faults.push(...error.faults.map((fault) => ({ ...fault, field: `${at}: ${fault.field}` })));
    return undefined;
  }
};

/**
 * Reads pieces from CSV.
 * @returns how many came in
 * @throws AfterfireError `bad-input` naming line and column of each thing wrong; then nothing came in
 */
export const piecesFromCsv = (db: Db, text: string, now_utc: string): number => {
  const lines = linesOf(text);
  return db.together(() => {
    const { zone, currency } = readSettings(db);
    const context: Context = { db, zone, currency, now_utc, today: wallClock(now_utc, zone).day };
    const faults: Fault[] = [];
    const stop = (): void => {
      if (faults.length > 0) throw badInputs(faults.slice(0, MOST_FAULTS));
    };
    const coming = lines.flatMap((line, i) => {
      const at = `table, line ${i + 2}`;
      return attempt(at, faults, () => begin(line, at, context)) ?? [];
    });
    stop();
    const days = new Map<string, string>();
    for (const name of new Set(coming.flatMap(({ firing }) => firing ?? []))) {
      const pieces = coming.filter(({ firing }) => firing === name);
      const day = attempt(`firing ${name}`, faults, () => fire(name, pieces, context));
      if (day !== undefined) days.set(name, day);
    }
    stop();
    for (const one of coming)
      attempt(one.at, faults, () => end({ ...one, day: days.get(one.firing ?? '') ?? one.day }, context));
    stop();
    return lines.length;
  });
};
