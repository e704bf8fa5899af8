import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  createWriteStream,
  existsSync,
  readdirSync,
  readFileSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { expect, test } from 'vitest';
import yazl from 'yazl';
import { derived, inFolder, missing, withRecord, ZONE } from '../../test/record-kit.ts';
import { readArchive, writeArchive } from './archive.ts';
import {
  backupIfDue,
  backupsToKeep,
  checkBackup,
  listBackups,
  makeBackup,
  restoreBackup,
} from './backups.ts';
import { record } from './journal.ts';
import { keepPhoto, photoPath, photoTrouble, readPhoto, sha256Of, sniff } from './photos.ts';
import { beginPiece, listPieces } from './pieces.ts';
import { closeRecord, newRecord, openRecord, type StudioRecord } from './record.ts';
import { changeSettings } from './settings.ts';

const NOW = '2026-06-01T10:00:00.000Z';
const at = { at_utc: NOW, zone: ZONE };

// The smallest files of each kind, by their standards: PNG (ISO 15948) with one dot, and the frames of JPEG and WebP.
const PNG = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);
const JPEG = Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 2, 1, 2, 3, 0xff, 0xd9]);
const WEBP = Buffer.from('524946460c00000057454250565038204c000000', 'hex');

const withPieces = (made: StudioRecord): string[] =>
  [PNG, JPEG, WEBP].map((bytes, i) => {
    const { sha256 } = keepPhoto(made, bytes, NOW);
    const { piece } = beginPiece(
      made.db,
      { ...at, number: `A-${i}`, note: 'Œuvre, "quoted"\nsecond line' },
      NOW,
    );
    record(made.db, [{ ...at, piece, kind: 'photographed', data: { photo: sha256 } }], NOW);
    return sha256;
  });

test('a photo is kept under the SHA-256 of what is in it, once, and comes back as it was', () =>
  withRecord((made) => {
    const first = keepPhoto(made, PNG, NOW);
    expect(keepPhoto(made, PNG, NOW)).toEqual(first);
    const path = photoPath(made.photos, first.sha256, 'png');
    const outside = spawnSync('sha256sum', [path], { encoding: 'utf8' });
    if (outside.error) missing('sha256sum');
    else expect(outside.stdout.slice(0, 64)).toBe(first.sha256);
    expect(Buffer.from(readPhoto(made, first.sha256).bytes).equals(PNG)).toBe(true);
    expect([PNG, JPEG, WEBP].map(sniff)).toEqual(['png', 'jpeg', 'webp']);
    expect(readdirSync(dirname(path))).toEqual([basename(path)]); // nothing half-written beside it
  }));

test('what is no whole picture, or too large, or no name of ours, does not reach the disk', () =>
  withRecord((made) => {
    for (const [bytes, said] of [
      [Buffer.from('<svg onload="alert(1)"/>'), /JPEG, PNG or WebP/],
      [Buffer.from('GIF89a'), /JPEG, PNG or WebP/],
      [Buffer.alloc(0), /JPEG, PNG or WebP/],
      [JPEG.subarray(0, 7), /without its end/],
      [PNG.subarray(0, 40), /without its end/],
      [WEBP.subarray(0, 15), /without its end/],
      [Buffer.alloc(25_000_001, 0xff), /25.0 MB; at most 25 MB/],
    ] as const)
      expect(() => keepPhoto(made, bytes, NOW)).toThrow(said);
    expect(existsSync(made.photos)).toBe(false);
    for (const name of ['../../etc/passwd', 'A'.repeat(64), `${'0'.repeat(63)}/`, '']) {
      expect(() => readPhoto(made, name)).toThrow(/not there/);
      expect(() => photoPath(made.photos, name, 'png')).toThrow(/SHA-256/);
    }
    expect(() => photoPath(made.photos, '0'.repeat(64), '../x')).toThrow(/jpeg, png, webp/);
  }));

test('a photo that was damaged or went missing gives itself away, and a backup mends it', () =>
  inFolder(async (folder) => {
    const path = join(folder, 'studio.sqlite');
    const made = newRecord(path);
    const [png, jpeg] = withPieces(made);
    const backup = makeBackup(made, NOW);
    expect(backup.missingPhotos).toEqual([]);
    writeFileSync(
      photoPath(made.photos, png, 'png'),
      Buffer.concat([PNG.subarray(0, 30), Buffer.alloc(9), PNG.subarray(39)]),
    );
    truncateSync(photoPath(made.photos, jpeg, 'jpeg'), 0);
    expect(() => readPhoto(made, png)).toThrow(/damaged; a backup may have it/);
    expect(photoTrouble(made.db, made.photos)).toHaveLength(2);
    await expect(writeArchive(made, join(folder, 'a.zip'), NOW)).rejects.toThrow(/would not be whole/);
    expect(makeBackup(made, '2026-06-02T10:00:00.000Z').missingPhotos).toEqual([]); // the old copies are whole
    closeRecord(made);
    restoreBackup(backup.path, path, NOW);
    const mended = openRecord(path);
    expect(photoTrouble(mended.db, mended.photos)).toEqual([]);
    closeRecord(mended);
  }));

test('a backup is the record of its moment, is read by sha256sum, and restores; what was there is moved aside', () =>
  inFolder((folder) => {
    const path = join(folder, 'studio.sqlite');
    const made = newRecord(path);
    withPieces(made);
    const then = derived(made.db);
    const { path: backup } = makeBackup(made, NOW);
    const outside = spawnSync('sha256sum', ['-c', `${basename(backup)}.sha256`], {
      cwd: dirname(backup),
      encoding: 'utf8',
    });
    if (outside.error) missing('sha256sum');
    else expect(outside.stdout).toMatch(/OK/);
    beginPiece(made.db, { ...at, number: 'later' }, NOW);
    closeRecord(made);
    const aside = restoreBackup(backup, path, NOW);
    const restored = openRecord(path);
    expect(derived(restored.db)).toBe(then);
    closeRecord(restored);
    const before = openRecord(aside ?? '');
    expect(listPieces(before.db).map(({ state }) => state.number)).toContain('later');
    closeRecord(before);
  }));

test('a half-copied backup is seen, with or without its sum beside it, and nothing is touched', () =>
  inFolder((folder) => {
    const path = join(folder, 'studio.sqlite');
    const made = newRecord(path);
    withPieces(made);
    const { path: backup } = makeBackup(made, NOW);
    closeRecord(made);
    const before = readFileSync(path);
    const alone = join(folder, 'alone.sqlite');
    for (const bytes of [0, 100, 4096, 20_000, 100_000]) {
      copyFileSync(backup, alone);
      truncateSync(alone, bytes);
      expect(() => restoreBackup(alone, path, NOW), `${bytes} bytes`).toThrow(/damaged|empty file/);
    }
    truncateSync(backup, 100_000);
    expect(() => restoreBackup(backup, path, NOW)).toThrow(/differs from what was backed up/);
    expect(() => checkBackup(join(folder, 'none.sqlite'))).toThrow(/no such file/);
    expect(readFileSync(path).equals(before)).toBe(true);
  }));

test('a day has one backup of its own accord; days and weeks are thinned', () =>
  withRecord((made) => {
    changeSettings(made.db, { zone: ZONE });
    // 23:30 UTC is half past one in the night of the next day there.
    expect(backupIfDue(made, '2026-06-01T10:00:00.000Z', ZONE)).toBeDefined();
    expect(backupIfDue(made, '2026-06-01T21:30:00.000Z', ZONE)).toBeUndefined();
    expect(backupIfDue(made, '2026-06-01T23:30:00.000Z', ZONE)).toBeDefined();
    expect(listBackups(made.backups)).toHaveLength(2);
    const daily = Array.from({ length: 90 }, (_, i) => new Date(Date.UTC(2026, 0, 1 + i, 9)).toISOString());
    const kept = [...backupsToKeep(daily, 'UTC', { days: 7, weeks: 8 })].sort();
    expect(kept).toHaveLength(13); // seven days, two of them the newest of a week, and six weeks more
    expect(kept.at(-1)).toBe('2026-03-31T09:00:00.000Z');
    expect(new Date(kept[0]).getUTCDay()).toBe(0); // a Sunday, the last of its week
  }));

test('a studio goes out as one archive and comes back the same, photos and all', () =>
  inFolder(async (folder) => {
    const made = newRecord(join(folder, 'studio.sqlite'));
    const photos = withPieces(made);
    const zip = join(folder, 'studio.zip');
    await writeArchive(made, zip, NOW);
    await expect(writeArchive(made, zip, NOW)).rejects.toThrow(/already/);
    const outside = spawnSync('unzip', ['-tq', zip], { encoding: 'utf8' });
    if (outside.error) missing('unzip');
    else expect(outside.stdout).toMatch(/No errors detected/);
    const target = join(folder, 'again.sqlite');
    await readArchive(zip, target);
    const again = openRecord(target);
    expect(derived(again.db)).toBe(derived(made.db));
    expect(again.db.all('SELECT * FROM journal')).toEqual(made.db.all('SELECT * FROM journal'));
    for (const sha256 of photos) expect(sha256Of(readPhoto(again, sha256).bytes)).toBe(sha256);
    closeRecord(again);
    closeRecord(made);
    await expect(readArchive(zip, target)).rejects.toThrow(/there already; it was not touched/);
    expect(readdirSync(folder).filter((name) => name.startsWith('.') || name.endsWith('.part'))).toEqual([]);
  }));

const zipOf = async (path: string, files: Readonly<Record<string, string | Buffer>>): Promise<string> => {
  const zip = new yazl.ZipFile();
  for (const [name, content] of Object.entries(files)) zip.addBuffer(Buffer.from(content), name);
  zip.end();
  await pipeline(zip.outputStream, createWriteStream(path));
  return path;
};

/** A ZIP with a name no honest writer makes: the letters are exchanged in the finished file. */
const renamed = async (
  path: string,
  from: string,
  to: string,
  files: Record<string, string>,
): Promise<string> => {
  await zipOf(path, files);
  writeFileSync(path, Buffer.from(readFileSync(path).toString('latin1').replaceAll(from, to), 'latin1'));
  return path;
};

test('an archive that is torn, tampered with, or wants out of its folder is refused, and nothing is left behind', () =>
  inFolder(async (folder) => {
    const made = newRecord(join(folder, 'studio.sqlite'));
    withPieces(made);
    const zip = join(folder, 'studio.zip');
    await writeArchive(made, zip, NOW);
    closeRecord(made);
    const target = join(folder, 'again.sqlite');
    const refused = async (path: string, said: RegExp): Promise<void> => {
      await expect(readArchive(path, target)).rejects.toThrow(said);
      expect(existsSync(target)).toBe(false);
    };
    const half = join(folder, 'half.zip');
    copyFileSync(zip, half);
    truncateSync(half, readFileSync(zip).length - 300);
    await refused(half, /a whole archive of a studio/);
    const bent = join(folder, 'bent.zip');
    const bytes = readFileSync(zip);
    bytes[Math.floor(bytes.length / 3)] ^= 0xff;
    writeFileSync(bent, bytes);
    await refused(bent, /a whole archive of a studio/);
    const list = (name: string) =>
      JSON.stringify({
        afterfire: 'archive/1',
        made_utc: NOW,
        files: [{ name, bytes: 1, sha256: sha256Of(Buffer.from('x')) }],
      });
    const evil = join(folder, 'evil.zip');
    await refused(
      await zipOf(evil, { 'manifest.json': list('../../evil.txt'), x: 'x' }),
      /manifest.files\[0\].name/,
    );
    await refused(await zipOf(evil, { 'manifest.json': list('pieces.csv') }), /no record.sqlite in it/);
    await refused(
      await zipOf(evil, { 'manifest.json': list('record.sqlite'), 'record.sqlite': 'x' }),
      /a damaged record in it/,
    );
    await refused(
      await zipOf(evil, { 'manifest.json': list('record.sqlite'), 'record.sqlite': 'y' }),
      /other content/,
    );
    await refused(
      await zipOf(evil, { 'manifest.json': list('record.sqlite'), 'record.sqlite': 'xx' }),
      /another length/,
    );
    await refused(await zipOf(evil, { 'readme.txt': 'x' }), /no manifest.json/);
    const out = { 'manifest.json': list('record.sqlite'), 'xx/xx/evil.txt': 'x' };
    await refused(
      await renamed(evil, 'xx/xx/evil', '../../evil', out),
      /invalid relative path|whole archive/,
    );
    expect(existsSync(join(dirname(folder), 'evil.txt'))).toBe(false);
    await refused(join(folder, 'none.zip'), /no such file/);
    expect(readdirSync(folder).filter((name) => name.startsWith('.'))).toEqual([]);
  }));
