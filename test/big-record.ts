import type { Db } from '../src/store/db.ts';
import { endFiring, lightFiring, openFiring, planFiring } from '../src/store/firings.ts';
import { record } from '../src/store/journal.ts';
import { beginPiece } from '../src/store/pieces.ts';
import { keepSeries } from '../src/store/series.ts';
import { keepSheet } from '../src/store/sheets.ts';
import { chance, oneOf, type Throw, whole } from './dice.ts';
import { ZONE } from './record-kit.ts';

/** A record as large as a long life's work, through the program's own functions; all of it is made up. */

const LOAD = 40;
const HOUR_MS = 3_600_000;
const NOTES = [
  'thin at the shoulder',
  'the blue clay bucket',
  'lip trued twice',
  'for the window',
  'slow drying, wrapped',
];
const PLACES = ['cellar', 'north shelf', 'packing table', 'gallery by the harbour', 'spring market'];

interface Given {
  readonly db: Db;
  readonly between: Throw;
  readonly now_utc: string;
  readonly forms: readonly number[];
}

const formsOf = (db: Db, form: unknown, now_utc: string): number[] =>
  ['Shore', 'Reed', 'Lantern'].flatMap((name, i) => {
    const { id: series } = keepSeries(db, name.toLowerCase(), name);
    return Array.from({ length: 10 }, (_, version) => {
      const json = { ...(form as object), name: `${name} ${version + 1}` };
      return keepSheet(db, { kind: 'form', key: `${name.toLowerCase()}-${i}`, json, series }, now_utc, ZONE)
        .id;
    });
  });

/** One load: its pieces from clay to the kiln, the firing, and what became of them. */
const oneLoad = ({ db, between, now_utc, forms }: Given, load: number, start: number): number => {
  let ms = start;
  const next = () => ({ at_utc: new Date((ms += 0.2 * HOUR_MS)).toISOString(), zone: ZONE });
  const pieces = Array.from({ length: LOAD }, (_, i) => {
    const number = `${String.fromCharCode(65 + (load % 26))}-${String(load * LOAD + i).padStart(5, '0')}`;
    const frame = { ...next(), number, form: oneOf(between, forms), note: oneOf(between, NOTES) };
    return beginPiece(db, frame, now_utc, [
      { ...next(), kind: 'formed', data: { how: 'thrown', clay_g: whole(between, 500, 4000), hours: 0.5 } },
      { ...next(), kind: 'drying', data: { place: oneOf(between, PLACES) } },
      { ...next(), kind: 'carved', data: { how: 'fluted', hours: 2 } },
      { ...next(), kind: 'dry' },
    ]).piece;
  });
  const { firing } = planFiring(db, { ...next(), name: `Firing ${load}` }, now_utc);
  record(
    db,
    pieces.map((piece) => ({ ...next(), piece, firing, kind: 'set', data: { shelf: whole(between, 1, 5) } })),
    now_utc,
  );
  lightFiring(db, firing, next(), now_utc);
  endFiring(db, firing, next(), now_utc);
  const lost = pieces.filter(() => chance(between, 0.15));
  openFiring(
    db,
    firing,
    next(),
    lost.map((piece) => ({ piece, lost: 'cracked' })),
    now_utc,
  );
  const rest = pieces.filter((piece) => !lost.includes(piece));
  const ends = rest.flatMap((piece) => [
    { ...next(), piece, kind: 'weighed', data: { clay: 'fired', weight_g: whole(between, 200, 2000) } },
    { ...next(), piece, kind: 'finished', data: { how: 'sanded' } },
    ...(chance(between, 0.9)
      ? [{ ...next(), piece, kind: 'priced', data: { price_minor: 20_000, currency: 'EUR' } }]
      : []),
    ...(chance(between, 0.8)
      ? [{ ...next(), piece, kind: 'sold', data: { price_minor: 20_000, currency: 'EUR' } }]
      : []),
  ]);
  record(db, ends, now_utc);
  return ms;
};

/**
 * Fills a record.
 * @param form a form as its file says it
 * @returns how many pieces and entries it has now
 */
export const fillBig = (db: Db, between: Throw, pieces: number, form: unknown, now_utc: string) => {
  const loads = Math.ceil(pieces / LOAD);
  const span = (Date.parse(now_utc) - Date.UTC(2000, 0, 3)) / loads;
  const given: Given = { db, between, now_utc, forms: formsOf(db, form, now_utc) };
  for (let load = 0; load < loads; load++)
    db.together(() => oneLoad(given, load, Date.UTC(2000, 0, 3) + load * span));
  const last = (hours: number) => ({
    at_utc: new Date(Date.parse(now_utc) - hours * HOUR_MS).toISOString(),
    zone: ZONE,
  });
  db.together(() => {
    for (let i = 0; i < 60; i++)
      beginPiece(db, { ...last(80), number: `N-${i}` }, now_utc, [
        { ...last(79), kind: 'formed' },
        { ...last(i), kind: 'drying' },
      ]);
  });
  const count = (table: string): number =>
    db.one<{ n: number }>(`SELECT count(*) AS n FROM ${table}`)?.n ?? 0;
  return { pieces: count('piece'), entries: count('journal') };
};
