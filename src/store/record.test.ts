import { spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, mkdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { dice } from '../../test/dice.ts';
import { killWriter, lookAfter } from '../../test/killed-writers.ts';
import { derived, inFolder, missing, sqlite3, withRecord, ZONE } from '../../test/record-kit.ts';
import { openDb } from './db.ts';
import { keepEntryCheck } from './entry-check.ts';
import { record } from './journal.ts';
import { migrate, NEWEST } from './migrations/migrations.ts';
import { beginPiece, listPieces, pieceByNumber } from './pieces.ts';
import { closeRecord, newRecord, openRecord, soundnessOf } from './record.ts';
import { search } from './search.ts';
import { rebuildStates } from './states.ts';

const NOW = '2026-06-01T10:00:00.000Z';
const at = { at_utc: NOW, zone: ZONE };

/** What a file of the first version held, written as that version wrote it. */
const OLD = `
INSERT INTO piece VALUES (1), (2);
INSERT INTO sheet (id, kind, key, version, name, json, made_utc, zone)
  VALUES (1, 'form', 'vase', 1, 'Tall vase', '{}', '2026-01-01T08:00:00.000Z', 'UTC');
INSERT INTO journal (id, uid, at_utc, zone, written_utc, piece, kind, data, note, batch) VALUES
  (1, 'a', '2026-01-01T08:00:00.000Z', 'UTC', '2026-01-01T08:00:00.000Z', 1, 'begun', '{"number":"A-001","form":1}', 'Œuvre', 1),
  (2, 'b', '2026-01-02T08:00:00.000Z', 'UTC', '2026-01-02T08:00:00.000Z', 1, 'formed', '{}', '', 2),
  (3, 'c', '2026-01-02T08:00:00.000Z', 'UTC', '2026-01-02T08:00:00.000Z', 2, 'begun', '{"number":"A-002"}', '', 3);
`;

test.each(Array.from({ length: NEWEST }, (_, i) => i + 1))(
  'a file of version %i with data in it is brought forward, nothing lost, and found by its words',
  (version) =>
    inFolder((folder) => {
      const path = join(folder, 'old.sqlite');
      const db = openDb(path);
      migrate(db, version);
      db.exec(OLD);
      const journal = JSON.stringify(db.all('SELECT * FROM journal'));
      if (version === NEWEST) {
        keepEntryCheck(db);
        rebuildStates(db); // such a file has its states already
      }
      db.close();
      const opened = openRecord(path);
      expect(JSON.stringify(opened.db.all('SELECT * FROM journal'))).toBe(journal);
      expect(soundnessOf(opened.db)).toMatchObject({
        version: NEWEST,
        damage: [],
        counts: { pieces: 2, entries: 3 },
      });
      expect(pieceByNumber(opened.db, 'A-001')?.state).toMatchObject({ stage: 'formed', form: 1 });
      expect(search(opened.db, 'tall').map(({ id }) => id)).toEqual([1]);
      record(opened.db, [{ ...at, piece: 2, kind: 'formed' }], NOW);
      closeRecord(opened);
    }),
);

test('a record of a newer program is refused in words and not touched', () =>
  inFolder((folder) => {
    const path = join(folder, 'new.sqlite');
    const made = newRecord(path);
    made.db.exec(`PRAGMA user_version = ${NEWEST + 1}`);
    closeRecord(made);
    const before = readFileSync(path);
    expect(() => openRecord(path)).toThrow(/a newer Afterfire wrote it/);
    expect(readFileSync(path).equals(before)).toBe(true);
  }));

test('what is no record is named: text, another program’s database, a torn file, a folder, nothing', () =>
  inFolder((folder) => {
    const path = (name: string) => join(folder, name);
    writeFileSync(path('text.sqlite'), 'this is a shopping list\n'.repeat(300));
    expect(() => openRecord(path('text.sqlite'))).toThrow(
      /text.sqlite: got "?a file that is damaged, or not a record/,
    );
    const other = openDb(path('other.sqlite'));
    other.exec('CREATE TABLE recipes (id INTEGER PRIMARY KEY)');
    other.close();
    expect(() => openRecord(path('other.sqlite'))).toThrow(/a database of another program/);
    const made = newRecord(path('torn.sqlite'));
    for (let i = 0; i < 40; i++)
      beginPiece(made.db, { ...at, number: `A-${i}`, note: 'x'.repeat(4000) }, NOW);
    closeRecord(made);
    for (const bytes of [100, 4096 * 40, 150_000, 300_000]) {
      copyFileSync(path('torn.sqlite'), path('half.sqlite'));
      truncateSync(path('half.sqlite'), bytes);
      expect(() => openRecord(path('half.sqlite')), `${bytes} bytes`).toThrow(/a file that is damaged/);
    }
    writeFileSync(path('empty.sqlite'), '');
    expect(() => openRecord(path('empty.sqlite'))).toThrow(/an empty file/);
    mkdirSync(path('folder.sqlite'));
    expect(() => openRecord(path('folder.sqlite'))).toThrow(/cannot be written to/);
    expect(() => openRecord(path('none.sqlite'))).toThrow(/no such record/);
    expect(() => openRecord(path('list.txt'))).toThrow(/ending in .sqlite/);
    expect(() => newRecord(path('torn.sqlite'))).toThrow(/already; it was not touched/);
  }));

test('a full disk: said in words, what was acknowledged stays, and it goes on when there is room', () =>
  withRecord(({ db }) => {
    beginPiece(db, { ...at, number: 'A-1' }, NOW);
    const pages = db.one<{ page_count: number }>('PRAGMA page_count')?.page_count ?? 0;
    db.exec(`PRAGMA max_page_count = ${pages + 3}`); // SQLite's own way of running out of room
    const fill = () => {
      for (let i = 2; i < 400; i++) beginPiece(db, { ...at, number: `A-${i}`, note: 'x'.repeat(3000) }, NOW);
    };
    expect(fill).toThrow(/the disk is full. Nothing of this was written and nothing before it is lost/);
    const kept = listPieces(db, {}, 1000).length;
    expect(kept).toBeGreaterThanOrEqual(1);
    expect(soundnessOf(db)).toMatchObject({ damage: [], counts: { pieces: kept } });
    const before = derived(db);
    rebuildStates(db);
    expect(derived(db)).toBe(before);
    db.exec('PRAGMA max_page_count = 1000000');
    beginPiece(db, { ...at, number: 'B-1' }, NOW);
    expect(listPieces(db, {}, 1000)).toHaveLength(kept + 1);
  }));

/** Runs the writer as a user who may not do everything. */
const writeAsNobody = (path: string) =>
  spawnSync(process.execPath, ['--import', 'tsx', 'test/record-writer.ts', path, '1', '1'], {
    encoding: 'utf8',
    ...(process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {}),
    env: { ...process.env, HOME: tmpdir(), TSX_DISABLE_CACHE: '1' },
  });

test.skipIf(process.platform === 'win32')('a folder that cannot be written to is said to be so', () =>
  inFolder((folder) => {
    const path = join(folder, 'studio.sqlite');
    closeRecord(newRecord(path));
    chmodSync(path, 0o444);
    chmodSync(folder, 0o555);
    try {
      const { stdout, stderr } = writeAsNobody(path);
      expect(stderr).toMatch(
        /studio.sqlite: it, or the folder it lies in, cannot be written to. Move it where/,
      );
      expect(stdout).not.toMatch(/^e /m);
    } finally {
      chmodSync(folder, 0o755);
    }
    const opened = openRecord(path);
    expect(soundnessOf(opened.db).damage).toEqual([]);
    closeRecord(opened);
  }),
);

test.skipIf(process.platform === 'win32')(
  'a limit on the size of files stands for a disk that ends: nothing acknowledged is lost',
  () =>
    inFolder((folder) => {
      const path = join(folder, 'studio.sqlite');
      const writer = `trap '' XFSZ; ulimit -f 2000; exec "${process.execPath}" --import tsx test/record-writer.ts "$1" 1 400`;
      const { stdout, stderr } = spawnSync('sh', ['-c', writer, 'sh', path], { encoding: 'utf8' });
      expect(stderr).toMatch(/the disk (is full|did not take it)|the disk is full/);
      const said = stdout.split('\n').filter((line) => /^[ep] /.test(line));
      expect(said.length).toBeGreaterThan(10);
      expect(lookAfter(path, said).wrong).toEqual([]);
    }),
);

test('killed in the middle of its writes, three times over: what was acknowledged is there', () =>
  inFolder(async (folder) => {
    const path = join(folder, 'studio.sqlite');
    const between = dice(5);
    const acknowledged: string[] = [];
    for (let i = 0; i < 3; i++) {
      const writer = ['--import', 'tsx', 'test/record-writer.ts', path, String(i), '100000'];
      const { said, midway } = await killWriter([process.execPath, ...writer], {
        from: 'entry',
        ms: between(0, 150),
      });
      expect(midway).toBe(true);
      acknowledged.push(...said);
      const left = lookAfter(path, acknowledged);
      if (!left.outside) missing('sqlite3');
      expect(left.wrong).toEqual([]);
    }
    expect(acknowledged.length).toBeGreaterThan(10);
  }));

test('two programs at once: both write, neither loses, and one that waits too long is told', () =>
  withRecord(({ db, path }) => {
    const other = openRecord(path);
    for (let i = 0; i < 30; i++) beginPiece((i % 2 ? other : { db }).db, { ...at, number: `A-${i}` }, NOW);
    expect(listPieces(other.db, {}, 100)).toHaveLength(30);
    closeRecord(other);
    const impatient = openDb(path, 50);
    db.exec('BEGIN IMMEDIATE');
    expect(() => beginPiece(impatient, { ...at, number: 'B-1' }, NOW)).toThrow(/another program is writing/);
    db.exec('COMMIT');
    impatient.close();
  }));

test('two processes write the same record at the same time: all that both acknowledged is there', () =>
  inFolder(async (folder) => {
    const path = join(folder, 'studio.sqlite');
    closeRecord(newRecord(path));
    const writers = ['1', '2'].map((seed) =>
      killWriter([process.execPath, '--import', 'tsx', 'test/record-writer.ts', path, seed, '25'], {
        from: 'entry',
        ms: 60_000,
      }),
    );
    const both = await Promise.all(writers);
    expect(both.map(({ midway }) => midway)).toEqual([false, false]);
    const acknowledged = both.flatMap(({ said }) => said);
    expect(acknowledged.filter((line) => line.startsWith('e '))).toHaveLength(150);
    expect(lookAfter(path, acknowledged).wrong).toEqual([]);
  }));

test('the file opens in SQLite’s own program: types, checks and counts as we see them', () =>
  withRecord(({ db, path }) => {
    beginPiece(db, { ...at, number: 'A-1', note: 'Œuvre “quoted”' }, NOW);
    db.all('PRAGMA wal_checkpoint(TRUNCATE)');
    const said = sqlite3(
      path,
      'PRAGMA integrity_check; PRAGMA foreign_key_check; SELECT typeof(id), typeof(piece), note FROM journal;',
    );
    if (said === undefined) return missing('sqlite3');
    expect(said).toBe('ok\ninteger|integer|Œuvre “quoted”');
  }));

test('a value that would end the process or be cut short is refused at the door', () =>
  withRecord(({ db }) => {
    for (const value of [true, Number.NaN, 'a\u0000b', undefined, {}])
      expect(() => db.all('SELECT ?', value as never), String(value)).toThrow(/not a value for the database/);
  }));

test('after a close all of it is in the one file, and the next opening writes nothing', () =>
  inFolder((folder) => {
    const path = join(folder, 'studio.sqlite');
    const made = newRecord(path);
    beginPiece(made.db, { ...at, number: 'A-1' }, NOW);
    closeRecord(made);
    copyFileSync(path, join(folder, 'copy.sqlite')); // without its log
    const copy = openRecord(join(folder, 'copy.sqlite'));
    expect(listPieces(copy.db)).toHaveLength(1);
    closeRecord(copy);
    const before = readFileSync(path);
    closeRecord(openRecord(path));
    expect(readFileSync(path).equals(before)).toBe(true);
  }));
