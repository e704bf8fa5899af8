import Papa from 'papaparse';
import { wallClock } from '../making/record/instant.ts';
import type { PieceState } from '../making/record/piece-state.ts';
import type { Db } from './db.ts';
import { readSettings } from './settings.ts';

/** Pieces as a table for other programs: CSV as RFC 4180 has it, UTF-8, a line for each piece. */

/** What a spreadsheet would take for a formula; the wide forms of the signs count too. */
const RISKY = /^[=+\-@\t\r\n'＝＋－＠]/;

/** A cell no spreadsheet runs: an apostrophe before what it might take for a formula, and before an apostrophe. */
export const harmless = (text: string): string => (RISKY.test(text) ? `'${text}` : text);

/** The cell as it was. */
export const asWritten = (cell: string): string =>
  cell.startsWith("'") && RISKY.test(cell.slice(1)) ? cell.slice(1) : cell;

export const COLUMNS = [
  'number',
  'title',
  'form',
  'clay',
  'series',
  'begun',
  'stage',
  'stands',
  'place',
  'firing',
  'fired',
  'wet_g',
  'bone_dry_g',
  'fired_g',
  'fired_height_mm',
  'hours',
  'price_minor',
  'sale_minor',
  'currency',
  'sold_to',
  'sold',
  'cause',
  'note',
] as const;
export type Column = (typeof COLUMNS)[number];

interface Row {
  readonly piece: number;
  readonly state: string;
  readonly form: string | null;
  readonly clay: string | null;
  readonly series: string | null;
  readonly firing: string | null;
  readonly fired: string | null;
  readonly note: string | null;
}

const ROWS = `SELECT p.piece, p.state, f.key AS form, c.key AS clay, s.key AS series, x.name AS firing, x.day AS fired,
    (SELECT group_concat(j.note, char(10)) FROM journal AS j WHERE j.piece = p.piece AND j.note <> ''
       AND NOT EXISTS (SELECT 1 FROM journal AS u WHERE u.undoes = j.id)) AS note
  FROM piece_state AS p
  LEFT JOIN sheet_now AS f ON f.id = p.form LEFT JOIN sheet AS c ON c.id = p.clay
  LEFT JOIN series AS s ON s.id = f.series
  LEFT JOIN firing_state AS x ON x.firing = json_extract(p.state, '$.firings[#-1]')
  WHERE p.stage <> 'not begun' AND p.piece > ? ORDER BY p.piece LIMIT 500`;

type Cell = string | number | null | undefined;

const cellsOf = (row: Row, zone: string): Record<Column, Cell> => {
  const state = JSON.parse(row.state) as PieceState;
  const day = (at_utc: string | undefined): Cell => at_utc && wallClock(at_utc, zone).day;
  return {
    number: state.number,
    title: state.title,
    form: row.form,
    clay: row.clay,
    series: row.series,
    begun: day(state.begun_utc),
    stage: state.stands === 'lost' ? state.loss?.at : state.stage,
    stands: state.stands,
    place: state.place,
    firing: row.firing,
    fired: row.fired,
    wet_g: state.weights_g.wet,
    bone_dry_g: state.weights_g['bone dry'],
    fired_g: state.weights_g.fired,
    fired_height_mm: state.sizes.fired?.height_mm,
    hours: state.hours === 0 ? undefined : state.hours,
    price_minor: state.price?.minor,
    sale_minor: state.sale?.minor,
    currency: state.sale?.currency ?? state.price?.currency,
    sold_to: state.sale?.to,
    sold: day(state.sale?.at_utc),
    cause: state.loss?.cause,
    note: row.note,
  };
};

const asCells = (cells: Record<Column, Cell>): string[] =>
  COLUMNS.map((column) => {
    const cell = cells[column] ?? '';
    return typeof cell === 'number' ? String(cell) : harmless(cell);
  });

/** Every piece of the record. */
export const piecesToCsv = (db: Db): string => {
  const { zone } = readSettings(db);
  const lines: string[][] = [[...COLUMNS]];
  for (let last = 0, rows: Row[]; (rows = db.all<Row>(ROWS, last)).length > 0; last = rows.at(-1)!.piece)
    for (const row of rows) lines.push(asCells(cellsOf(row, zone)));
  return `${Papa.unparse(lines, { newline: '\r\n' })}\r\n`;
};
