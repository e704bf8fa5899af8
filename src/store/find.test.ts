import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { withRecord, ZONE } from '../../test/record-kit.ts';
import { instantOf } from '../making/record/instant.ts';
import type { Db } from './db.ts';
import { endFiring, firingById, lightFiring, openFiring, planFiring } from './firings.ts';
import { correct, record } from './journal.ts';
import { beginPiece, nextNumber, pieceNumbered } from './pieces.ts';
import { asWritten, harmless, piecesToCsv } from './pieces-csv.ts';
import { piecesFromCsv } from './pieces-from-csv.ts';
import { search } from './search.ts';
import { familyOf, keepSeries } from './series.ts';
import { changeSettings, readSettings } from './settings.ts';
import { keepSheet, newestSheet, sheetJson, sheetsOfKind, versionsOf } from './sheets.ts';
import { startPage } from './start-page.ts';

const NOW = '2026-06-01T10:00:00.000Z';
const example = (name: string): unknown => JSON.parse(readFileSync(join('examples', name), 'utf8'));
const on = (local: string) => ({ at_utc: instantOf(local, ZONE), zone: ZONE });

const numbers = (db: Db, text: string): (string | undefined)[] =>
  search(db, text).map(({ state }) => ('number' in state ? state.number : (state as { name?: string }).name));

test('anything is found by number, form, series, month, place, outcome, note; the number itself first', () =>
  withRecord(({ db }) => {
    const series = keepSeries(db, 'tall', 'Shore');
    const json = example('tall-fluted-vase.form.json');
    const form = keepSheet(db, { kind: 'form', key: 'vase', json, series: series.id }, NOW, ZONE);
    beginPiece(
      db,
      { ...on('2026-03-31 23:30'), number: 'A-007', form: form.id, note: 'Pâte très fine' },
      NOW,
    );
    beginPiece(db, { ...on('2026-04-02 09:00'), number: 'A-070' }, NOW);
    const { piece } = beginPiece(db, { ...on('2026-04-02 10:00'), number: 'B-7' }, NOW);
    record(
      db,
      [
        { ...on('2026-04-03 10:00'), piece, kind: 'formed' },
        { ...on('2026-04-03 11:00'), piece, kind: 'drying', data: { place: 'cellar, north wall' } },
      ],
      NOW,
    );
    planFiring(db, { ...on('2026-04-20 10:00'), name: 'F-3' }, NOW);
    expect(numbers(db, 'a-007')).toEqual(['A-007']);
    expect(numbers(db, '7')).toEqual(['B-7', 'A-070', 'A-007']);
    expect(numbers(db, 'shore')).toEqual(['A-007']);
    expect(numbers(db, 'fluted')).toEqual(['A-007']);
    // 21:30 UTC in March, and by then April nowhere: the wall clock there decides.
    expect(numbers(db, 'March 2026')).toEqual(['A-007']);
    expect(numbers(db, '2026-04')).toEqual(expect.arrayContaining(['A-070', 'B-7', 'F-3']));
    expect(numbers(db, 'april cellar')).toEqual(['B-7']);
    expect(numbers(db, 'pate tres')).toEqual(['A-007']);
    expect(numbers(db, 'firing planned')).toEqual(['F-3']);
    for (const odd of [
      '',
      '   ',
      '"',
      "'; DROP TABLE piece; --",
      'NEAR(a b)',
      '*',
      'number:A',
      'a"b',
      '\u0000',
      '-',
      'x'.repeat(10_000),
    ])
      expect(() => search(db, odd), odd).not.toThrow();
    expect(numbers(db, 'number:A')).toEqual([]); // signs of the search’s own language mean nothing
  }));

test('the start page counts real hours over the change of the clocks', () =>
  withRecord(({ db }) => {
    changeSettings(db, { zone: ZONE, carveFrom_h: 18, carveUntil_h: 48 });
    const { piece } = beginPiece(db, { ...on('2026-03-28 18:00'), number: 'A-1' }, NOW, [
      { ...on('2026-03-28 18:00'), kind: 'formed' },
      { ...on('2026-03-28 18:30'), kind: 'drying' },
    ]);
    const window = (local: string) => startPage(db, instantOf(local, ZONE)).drying.first[0];
    // Half past twelve on the wall is 18 hours later by the clock, 17 for the clay (IANA: Berlin loses an hour that night).
    expect(window('2026-03-29 12:30')).toEqual({ piece, number: 'A-1', hours: 17, window: 'soon' });
    expect(window('2026-03-29 13:30')).toMatchObject({ hours: 18, window: 'open' });
    expect(window('2026-03-30 20:00')).toMatchObject({ hours: 48.5, window: 'over' });
    expect(window('2026-03-28 23:30')).toBeUndefined();
  }));

test('the start page: firings under way, dates, what is unpriced and unphotographed', () =>
  withRecord(({ db }) => {
    changeSettings(db, { zone: ZONE });
    const when = (hour: string) => on(`2026-05-01 ${hour}:00`);
    const pieces = ['A-1', 'A-2', 'A-3'].map(
      (number) =>
        beginPiece(db, { ...when('08'), number }, NOW, [
          { ...when('09'), kind: 'formed' },
          { ...when('10'), kind: 'dry' },
        ]).piece,
    );
    const { firing } = planFiring(db, { ...when('11'), name: 'F-1' }, NOW);
    record(
      db,
      pieces.map((piece) => ({ ...when('12'), piece, firing, kind: 'set' })),
      NOW,
    );
    lightFiring(db, firing, when('13'), NOW);
    expect(startPage(db, NOW).firings.map(({ state }) => state.stage)).toEqual(['lit']);
    expect(() =>
      record(
        db,
        [
          { ...when('14'), piece: pieces[0], kind: 'unset' },
          { ...when('15'), piece: pieces[0], firing, kind: 'set' },
        ],
        NOW,
      ),
    ).toThrow(/not yet lit/);
    endFiring(db, firing, when('16'), NOW);
    expect(() => openFiring(db, firing, when('17'), [{ piece: 99, came: 'as wanted' }], NOW)).toThrow(
      /found\[0\].piece/,
    );
    openFiring(db, firing, when('17'), [{ piece: pieces[2], lost: 'cracked', note: 'at the foot' }], NOW);
    expect(firingById(db, firing)?.pieces).toBe(3);
    const page = startPage(db, NOW);
    expect(page.firings).toEqual([]);
    expect(page.stages).toEqual({ unloaded: 2, lost: 1 });
    expect(page.unphotographed.count).toBe(2);
    expect(page.unpriced.count).toBe(0); // not finished yet
    record(
      db,
      [
        { ...when('18'), piece: pieces[0], kind: 'finished' },
        { ...when('18'), piece: pieces[0], kind: 'promised', data: { to: 'a friend', by: '2026-05-30' } },
      ],
      NOW,
    );
    record(
      db,
      [
        {
          ...when('18'),
          piece: pieces[1],
          kind: 'shown',
          data: { place: 'Spring show', until: '2026-06-04' },
        },
      ],
      NOW,
    );
    const later = startPage(db, NOW);
    expect(later.unpriced.first.map(({ number }) => number)).toEqual(['A-1']);
    expect(later.due.first).toEqual([
      { piece: pieces[0], number: 'A-1', day: '2026-05-30', days: -2, why: 'promised' },
      { piece: pieces[1], number: 'A-2', day: '2026-06-04', days: 3, why: 'shown' },
    ]);
    expect(() => changeSettings(db, { currency: 'euro' })).toThrow(/settings.currency/);
    expect(readSettings(db).currency).toBe('EUR');
  }));

test('sheets: versions, nothing written twice, what is wrong named by its own parser', () =>
  withRecord(({ db }) => {
    const json = example('wide-shallow-bowl.form.json') as Record<string, unknown>;
    const first = keepSheet(db, { kind: 'form', key: 'bowl', json }, NOW, ZONE);
    expect(keepSheet(db, { kind: 'form', key: 'bowl', json }, NOW, ZONE)).toEqual(first);
    const second = keepSheet(
      db,
      { kind: 'form', key: 'bowl', json: { ...json, name: 'Bowl, wider' } },
      NOW,
      ZONE,
    );
    expect(second).toMatchObject({ version: 2, parent: first.id });
    const child = keepSheet(db, { kind: 'form', key: 'dish', json, parent: second.id }, NOW, ZONE);
    expect(child).toMatchObject({ version: 1, parent: second.id });
    expect(versionsOf(db, 'form', 'bowl').map(({ version }) => version)).toEqual([1, 2]);
    expect(newestSheet(db, 'form', 'bowl')?.id).toBe(second.id);
    expect(sheetsOfKind(db, 'form').map(({ id }) => id)).toEqual([second.id, child.id]);
    expect(sheetJson(db, second.id)).toMatchObject({ name: 'Bowl, wider' });
    expect(familyOf(db).map(({ form, parent }) => [form, parent])).toEqual([
      [first.id, null],
      [second.id, first.id],
      [child.id, second.id],
    ]);
    expect(() => keepSheet(db, { kind: 'form', key: 'bowl', json: { ...json, wall: 3 } }, NOW, ZONE)).toThrow(
      /form.wall/,
    );
    expect(() => keepSheet(db, { kind: 'form', key: '../x', json }, NOW, ZONE)).toThrow(/sheet.key/);
    const clay = keepSheet(
      db,
      { kind: 'clay', key: 'c', json: example('studio-porcelain.clay.json') },
      NOW,
      ZONE,
    );
    expect(() => beginPiece(db, { ...on('2026-05-01 10:00'), number: '1', form: clay.id }, NOW)).toThrow(
      /of the right kind/,
    );
    const { entries } = beginPiece(
      db,
      { ...on('2026-05-01 10:00'), number: '1', form: first.id, clay: clay.id },
      NOW,
    );
    correct(db, entries[0].id, { data: { number: '1', form: second.id } }, NOW);
    expect(familyOf(db).map(({ pieces }) => pieces)).toEqual([0, 1, 0]);
    expect(nextNumber(db)).toBe('2');
  }));

// RFC 4180, section 2: rules 2 (last line), 5 and 6 (quotes round commas, line breaks), 7 (a quote is written twice).
test('a table by RFC 4180: commas, quotes and line breaks inside a cell come back as they were', () =>
  withRecord(({ db }) => {
    const note = 'one, "two"\r\nthree; four';
    beginPiece(db, { ...on('2026-05-01 10:00'), number: 'A,"1"', title: 'Œuvre', note }, NOW);
    const text = piecesToCsv(db);
    expect(text).toContain('"A,""1""",Œuvre,');
    expect(text).toContain('"one, ""two""\r\nthree; four"');
    expect(text.endsWith('\r\n')).toBe(true);
    return withRecord(({ db: other }) => {
      expect(piecesFromCsv(other, text, NOW)).toBe(1);
      expect(pieceNumbered(other, 'A,"1"').state).toMatchObject({ title: 'Œuvre', stage: 'begun' });
      expect(piecesToCsv(other)).toBe(text);
    });
  }));

// OWASP, CSV injection: cells that begin with = + - @ tab or carriage return run as formulas.
test('no cell of ours runs as a formula, and every text comes back as it was', () => {
  for (const risky of [
    '=1+1',
    '+1',
    '-1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '＝1',
    "'quoted",
    "'=1",
    '=cmd|" /C calc"!A0',
  ]) {
    expect(harmless(risky)).toBe(`'${risky}`);
    expect(asWritten(harmless(risky))).toBe(risky);
  }
  for (const plain of ['A-1', 'vase', '', ' =1', 'a=b', "O'Neill"]) {
    expect(harmless(plain)).toBe(plain);
    expect(asWritten(plain)).toBe(plain);
  }
});

test('pieces come in from a table with the life it takes, and go out the same', () =>
  withRecord(({ db }) => {
    changeSettings(db, { zone: ZONE });
    const table = [
      'number,begun,stage,stands,place,firing,fired,wet_g,bone_dry_g,fired_g,price_minor,currency,sold,sold_to,cause,note',
      'A-1,2025-01-10,finished,sold,,K1,2025-02-01,1200,900,850,30000,EUR,2025-03-01,=HYPERLINK(1),,first',
      'A-2,2025-01-11,unloaded,lost,,K1,2025-02-01,,,,,,,,cracked,',
      'A-3,2025-01-12,drying,in the studio,cellar,,,,,,,,,,,',
      'A-4,2025-01-12,finished,on consignment,Gallery,,2025-02-03,,,,20000,EUR,,,,',
      '',
    ].join('\r\n');
    expect(piecesFromCsv(db, `\uFEFF${table}`, NOW)).toBe(4);
    expect(pieceNumbered(db, 'A-1').state).toMatchObject({
      stage: 'finished',
      stands: 'sold',
      weights_g: { wet: 1200, 'bone dry': 900, fired: 850 },
      sale: { minor: 30000, currency: 'EUR', to: '=HYPERLINK(1)' },
    });
    expect(pieceNumbered(db, 'A-2').state).toMatchObject({ stands: 'lost', loss: { cause: 'cracked' } });
    expect(pieceNumbered(db, 'A-3').state).toMatchObject({ stage: 'drying', place: 'cellar' });
    expect(pieceNumbered(db, 'A-4').state).toMatchObject({ stands: 'on consignment', place: 'Gallery' });
    const out = piecesToCsv(db);
    expect(out).toContain("'=HYPERLINK(1)");
    return withRecord(({ db: other }) => {
      changeSettings(other, { zone: ZONE });
      piecesFromCsv(other, out, NOW);
      expect(piecesToCsv(other)).toBe(out);
    });
  }));

test('a table with mistakes: all of them named by line and column, and nothing comes in', () =>
  withRecord(({ db }) => {
    const bad =
      'number,stage,stands,price_minor,cause\nA-1,finished,sold,much,\nA-2,baked,,,\nA-2,,lost,,eaten\n,,,,\nA-4,,away,,\n';
    expect(() => piecesFromCsv(db, bad, NOW)).toThrow(/line 3: stage: got "baked"/);
    expect(() => piecesFromCsv(db, 'number,price_minor\nA-1,much\n', NOW)).toThrow(
      /line 2: price_minor: got "much"; expected a number/,
    );
    expect(() => piecesFromCsv(db, 'number\nA-1\nA-1\n', NOW)).toThrow(/line 3: number/);
    expect(() => piecesFromCsv(db, 'number,glaze\nA-1,x\n', NOW)).toThrow(/first line: got "glaze"/);
    expect(() => piecesFromCsv(db, 'title\nx\n', NOW)).toThrow(/a column "number"/);
    expect(() => piecesFromCsv(db, 'number\n"A-1\n', NOW)).toThrow(/quotes closed/);
    expect(search(db, 'A')).toEqual([]);
  }));
