import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { withRecord, ZONE } from '../../test/record-kit.ts';
import type { Db } from './db.ts';
import { keepDescent } from './descent.ts';
import { beginPiece, listPieces } from './pieces.ts';
import { piecesToCsv } from './pieces-csv.ts';
import { soundnessOf } from './record.ts';
import { search } from './search.ts';
import { allSeries, familyOf } from './series.ts';
import { keepSheet } from './sheets.ts';

const NOW = '2026-06-01T10:00:00.000Z';
const json = JSON.parse(readFileSync('examples/tall-fluted-vase.form.json', 'utf8'));
const formCalled = (db: Db, key: string): number =>
  keepSheet(db, { kind: 'form', key, json: { ...json, name: `Vase ${key}` } }, NOW, ZONE).id;

test('a form is given its parent and a new series later; family, list, search and table all tell of it', () =>
  withRecord(({ db }) => {
    const [a, b] = [formCalled(db, 'a'), formCalled(db, 'b')];
    beginPiece(db, { at_utc: NOW, zone: ZONE, number: 'A-001', form: b }, NOW);
    expect(search(db, 'dune')).toEqual([]);
    const told = keepDescent(db, b, { parent: a, series: { name: ' Dune ' } }, NOW);
    expect(told).toMatchObject({ id: b, parent: a });
    expect(allSeries(db)).toMatchObject([{ key: 'dune', name: 'Dune' }]);
    expect(familyOf(db, told.series!).map(({ form, parent }) => [form, parent])).toEqual([[b, a]]);
    expect(listPieces(db, { series: told.series! })).toHaveLength(1);
    expect(search(db, 'dune')).toHaveLength(1);
    expect(piecesToCsv(db)).toContain(',dune,');
    // The same name is the same series, and saying the same twice writes nothing.
    keepDescent(db, a, { parent: null, series: { name: 'DUNE' } }, NOW);
    keepDescent(db, a, { parent: null, series: told.series }, NOW);
    expect(allSeries(db)).toHaveLength(1);
    expect(db.one<{ n: number }>('SELECT count(*) AS n FROM descent')?.n).toBe(2);
    keepDescent(db, b, { parent: null, series: null }, NOW);
    expect(search(db, 'dune')).toEqual([]);
    // The next version of a form carries on what was said of the last.
    const next = keepSheet(
      db,
      { kind: 'form', key: 'a', json: { ...json, name: 'Vase a, wider' } },
      NOW,
      ZONE,
    );
    expect(next).toMatchObject({ parent: a, series: told.series });
    expect(soundnessOf(db).damage).toEqual([]);
  }));

test('a form that would descend from itself is refused in words, and nothing of it is written', () =>
  withRecord(({ db }) => {
    const [a, b, c] = [formCalled(db, 'a'), formCalled(db, 'b'), formCalled(db, 'c')];
    keepDescent(db, b, { parent: a, series: null }, NOW);
    keepDescent(db, c, { parent: b, series: null }, NOW);
    const series = { name: 'Round' };
    expect(() => keepDescent(db, a, { parent: a, series }, NOW)).toThrow(/Vase a cannot descend from itself/);
    expect(() => keepDescent(db, a, { parent: c, series }, NOW)).toThrow(
      /Vase c; expected a form that does not itself descend from Vase a/,
    );
    expect(() => keepDescent(db, a, { parent: 999, series }, NOW)).toThrow(/form.parent/);
    expect(() => keepDescent(db, a, { parent: null, series: 999 }, NOW)).toThrow(/form.series/);
    expect(() => keepDescent(db, a, { parent: null, series: { name: ' ' } }, NOW)).toThrow(/series.name/);
    expect(allSeries(db)).toEqual([]);
    expect(familyOf(db).map(({ parent }) => parent)).toEqual([null, a, b]);
    // What was said stays, as SQLite itself sees to.
    expect(() => db.run('UPDATE descent SET parent = NULL')).toThrow(/never changed/);
    expect(() => db.run('DELETE FROM descent')).toThrow(/never deleted/);
  }));
