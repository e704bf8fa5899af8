import { expect, test } from 'vitest';
import { dice } from '../../test/dice.ts';
import {
  derived,
  hourByHour,
  missing,
  sqlite3,
  tryRandomEntries,
  withRecord,
  ZONE,
} from '../../test/record-kit.ts';
import { endFiring, lightFiring, openFiring, planFiring } from './firings.ts';
import { correct, record, undoBatch, undoEntry } from './journal.ts';
import { entriesOfPiece } from './journal-rows.ts';
import { sha256Of } from './photos.ts';
import { beginPiece, listPieces, nextNumber, pieceById, pieceByNumber } from './pieces.ts';
import { rebuildStates } from './states.ts';

const NOW = '2026-06-01T10:00:00.000Z';
const at = (at_utc: string) => ({ at_utc, zone: ZONE });

test('the journal refuses to be changed, whoever asks: by itself and by SQLite’s own program', () =>
  withRecord(({ db, path }) => {
    beginPiece(db, { ...at(NOW), number: 'A-1' }, NOW);
    const row =
      "1, 'x', at_utc, zone, written_utc, piece, firing, kind, data, note, undoes, batch FROM journal";
    for (const sql of [
      "UPDATE journal SET note = 'other'",
      'DELETE FROM journal',
      `INSERT OR REPLACE INTO journal SELECT ${row}`,
      "UPDATE sheet SET name = 'x' WHERE id = 1",
    ]) {
      if (sql.includes('sheet'))
        db.run(
          "INSERT INTO sheet (id, kind, key, version, name, json, made_utc, zone) VALUES (1, 'other', 'k', 1, 'n', '{}', ?, 'UTC')",
          NOW,
        );
      expect(() => db.exec(sql), sql).toThrow(/never (changed|deleted)/);
    }
    db.all('PRAGMA wal_checkpoint(TRUNCATE)');
    const outside = sqlite3(path, 'SELECT count(*) FROM journal');
    if (outside === undefined) return missing('sqlite3');
    expect(outside).toBe('1');
  }));

test('the database itself refuses what the table of kinds does not allow', () =>
  withRecord(({ db }) => {
    const { piece } = beginPiece(db, { ...at(NOW), number: 'A-1' }, NOW);
    const insert = (kind: string, data: string) => () =>
      db.run(
        `INSERT INTO journal (uid, at_utc, zone, written_utc, piece, kind, data, batch)
         VALUES (hex(randomblob(8)), ?, 'UTC', ?, ?, ?, ?, 1)`,
        NOW,
        NOW,
        piece,
        kind,
        data,
      );
    for (const [kind, data] of [
      ['weighed', '{"clay":"wet"}'],
      ['weighed', '{"clay":"damp","weight_g":3}'],
      ['weighed', '{"clay":"wet","weight_g":"3"}'],
      ['weighed', '{"clay":"wet","weight_g":-3}'],
      ['weighed', '{"clay":"wet","weight_g":3,"more":1}'],
      ['promised', '{"to":"x","by":"2026-02-30"}'],
      ['photographed', `{"photo":"${'0'.repeat(64)}"}`],
      ['eaten', '{}'],
    ] as const)
      expect(insert(kind, data), `${kind} ${data}`).toThrow(/does not have such data/);
    expect(insert('weighed', '{"clay":"wet","weight_g":3}')).not.toThrow();
    expect(insert('promised', '{"to":"x","by":"2026-02-28"}')).not.toThrow();
  }));

test('entries in one go: all or none, and undone in one go', () =>
  withRecord(({ db }) => {
    const { piece } = beginPiece(db, { ...at('2026-05-01T08:00:00.000Z'), number: 'A-1' }, NOW);
    const two = [
      { ...at('2026-05-01T09:00:00.000Z'), piece, kind: 'formed' },
      { ...at('2026-05-01T10:00:00.000Z'), piece, kind: 'formed' },
    ];
    expect(() => record(db, two, NOW)).toThrow(/entries\[1\].kind: got formed.*it can be formed once/);
    expect(entriesOfPiece(db, piece)).toHaveLength(1);
    const drying = { ...at('2026-05-01T10:00:00.000Z'), piece, kind: 'drying', data: { place: 'cellar' } };
    const [first] = record(db, [two[0], drying], NOW);
    expect(pieceById(db, piece)?.state).toMatchObject({ stage: 'drying', place: 'cellar' });
    const [undone] = undoBatch(db, first.batch, NOW, ZONE);
    expect(pieceById(db, piece)?.state.stage).toBe('begun');
    expect(() => undoBatch(db, first.batch, NOW, ZONE)).toThrow(/taken back already/);
    undoBatch(db, undone.batch, NOW, ZONE);
    expect(pieceById(db, piece)?.state.stage).toBe('drying');
    // Taking back only what others stand on is refused, and says which.
    expect(() => undoEntry(db, first.id, NOW, ZONE)).toThrow(/entry 3 \("drying".*take it back first/);
  }));

test('a wrong number is corrected, the old one is free again, and both stay readable', () =>
  withRecord(({ db }) => {
    const { piece, entries } = beginPiece(db, { ...at(NOW), number: 'A-009' }, NOW);
    expect(nextNumber(db)).toBe('A-010');
    expect(() => beginPiece(db, { ...at(NOW), number: 'a-009' }, NOW)).toThrow(/data.number.*another piece/s);
    correct(db, entries[0].id, { data: { number: 'A-008' } }, NOW);
    expect(pieceByNumber(db, 'A-008')?.id).toBe(piece);
    expect(beginPiece(db, { ...at(NOW), number: 'A-009' }, NOW).piece).toBeGreaterThan(piece);
    expect(entriesOfPiece(db, piece).map(({ data }) => data.number)).toEqual(['A-009', 'A-008']);
    expect(() => correct(db, entries[0].id, { data: { number: 'A-007' } }, NOW)).toThrow(
      /taken back already/,
    );
  }));

test('a device that got no answer sends again: written once; another entry by the same sign is refused', () =>
  withRecord(({ db }) => {
    const sent = { ...at(NOW), number: 'A-1', uid: 'tablet-0001' };
    const first = beginPiece(db, sent, NOW);
    expect(beginPiece(db, sent, NOW)).toEqual(first);
    expect(listPieces(db)).toHaveLength(1);
    expect(() => beginPiece(db, { ...sent, number: 'A-2' }, NOW)).toThrow(/uid/);
    expect(listPieces(db)).toHaveLength(1);
  }));

test('the future, the unknown piece and the foreign undo are refused in words', () =>
  withRecord(({ db }) => {
    const a = beginPiece(db, { ...at(NOW), number: '1' }, NOW);
    const b = beginPiece(db, { ...at(NOW), number: '2' }, NOW);
    const note = { ...at(NOW), piece: a.piece, kind: 'noted', note: 'x' };
    expect(() => record(db, [{ ...note, at_utc: '2026-06-01T10:30:00.000Z' }], NOW)).toThrow(/not after now/);
    expect(() => record(db, [{ ...note, piece: 99 }], NOW)).toThrow(/entry.piece: got 99/);
    expect(() =>
      record(db, [{ ...at(NOW), piece: a.piece, kind: 'undone', undoes: b.entries[0].id }], NOW),
    ).toThrow(/the same piece/);
    expect(() => record(db, [{ ...note, undoes: a.entries[0].id }], NOW)).toThrow(/is "begun"/);
  }));

// Seeded; the claim is that nothing a person can type makes what is kept differ from what the journal says.
test.each([1, 2])('after random entries and undos, seed %i, the kept state is the rebuilt state', (seed) =>
  withRecord(({ db, path }) => {
    const between = dice(seed);
    const next = hourByHour();
    const pieces = Array.from(
      { length: 12 },
      (_, n) => beginPiece(db, { ...at(next()), number: `R-${n}` }, NOW).piece,
    );
    const firings = [1, 2, 3, 4, 5, 6].map(
      (n) => planFiring(db, { ...at(next()), name: `F${n}` }, NOW).firing,
    );
    const fired = pieces.slice(0, 5);
    const each = (kind: string, firing?: number) =>
      record(
        db,
        fired.map((piece) => ({ ...at(next()), piece, kind, ...(firing ? { firing } : {}) })),
        NOW,
      );
    each('formed');
    each('dry');
    each('set', firings[0]);
    lightFiring(db, firings[0], at(next()), NOW);
    endFiring(db, firings[0], at(next()), NOW);
    openFiring(db, firings[0], at(next()), [{ piece: fired[0], lost: 'cracked' }], NOW);
    const photo = sha256Of(new Uint8Array([seed]));
    db.run("INSERT INTO photo VALUES (?, 'jpeg', 1, ?)", photo, NOW);
    const tries = { tries: 1000, pieces, firings };
    let checked = 0;
    const { written, refused } = tryRandomEntries(
      db,
      between,
      tries,
      next,
      () => photo,
      (done) => {
        if (!done || ++checked % 40 !== 0) return;
        const kept = derived(db);
        rebuildStates(db);
        expect(derived(db)).toBe(kept);
      },
    );
    expect(written).toBeGreaterThan(120);
    expect(listPieces(db).map(({ state }) => state.stage)).toContain('finished');
    expect(refused).toBeGreaterThan(200);
    const kept = derived(db);
    rebuildStates(db);
    expect(derived(db)).toBe(kept);
    db.all('PRAGMA wal_checkpoint(TRUNCATE)');
    const outside = sqlite3(path, 'PRAGMA integrity_check; PRAGMA foreign_key_check;');
    if (outside === undefined) return missing('sqlite3');
    expect(outside).toBe('ok');
  }),
);
