import { createWriteStream, existsSync, mkdirSync, mkdtempSync, renameSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import yauzl from 'yauzl';
import yazl from 'yazl';
import { z } from 'zod';
import { AfterfireError, badInput } from '../error.ts';
import { parseShape } from '../shape.ts';
import { checkBackup, copyRecord } from './backups.ts';
import { sha256OfFile } from './file-hash.ts';
import { parseJson } from './json-text.ts';
import { allPhotos, diskTrouble, photoPath, syncFile } from './photos.ts';
import { piecesToCsv } from './pieces-csv.ts';
import { closeRecord, foldersOf, openRecord, RECORD_ENDING, type StudioRecord } from './record.ts';

/**
 * A whole studio as one ZIP: the record, its photos, the pieces once more as a table for other programs, and a list of
 * all with their SHA-256. Reading one, nothing is written but what the list names, and only under names of ours.
 */

const MANIFEST = 'manifest.json';
const RECORD = `record${RECORD_ENDING}`;
const TABLE = 'pieces.csv';
const NAMES = /^(record\.sqlite|pieces\.csv|photos\/[0-9a-f]{2}\/[0-9a-f]{64}\.(jpeg|png|webp))$/;

const Manifest = z.strictObject({
  afterfire: z.literal('archive/1'),
  made_utc: z.string(),
  files: z.array(
    z.strictObject({
      name: z.string().regex(NAMES, 'a name that an archive of a studio has'),
      bytes: z.int().nonnegative(),
      sha256: z.string().regex(/^[0-9a-f]{64}$/, 'a SHA-256 in hexadecimal'),
    }),
  ),
});
type Manifest = z.infer<typeof Manifest>;

const MAX_MANIFEST_BYTES = 50_000_000;

interface Part {
  readonly name: string;
  readonly path: string;
  readonly sha256: string;
}

/** Every photo with its place in the archive. Throws where one is not whole: an archive with a hole is none. */
const photoParts = (record: StudioRecord): Part[] =>
  allPhotos(record.db).map(({ sha256, format }) => {
    const path = photoPath(record.photos, sha256, format);
    if (!existsSync(path) || sha256OfFile(path) !== sha256)
      throw new AfterfireError(
        'cannot-do',
        `photo ${sha256.slice(0, 12)}: its file is missing or damaged, and the archive would not be whole; restore it from a backup first`,
      );
    return { name: `photos/${sha256.slice(0, 2)}/${basename(path)}`, path, sha256 };
  });

const zipTo = async (
  file: string,
  parts: readonly Part[],
  table: Buffer,
  made_utc: string,
): Promise<void> => {
  const zip = new yazl.ZipFile();
  const stream = zip.outputStream as Readable;
  zip.on('error', (error) => stream.destroy(error as Error));
  const written = pipeline(stream, createWriteStream(file));
  const mtime = new Date(made_utc);
  const list: Manifest = {
    afterfire: 'archive/1',
    made_utc,
    files: parts.map(({ name, path, sha256 }) => ({ name, bytes: statSync(path).size, sha256 })),
  };
  zip.addBuffer(Buffer.from(`${JSON.stringify(list, null, 1)}\n`), MANIFEST, { mtime });
  zip.addBuffer(table, TABLE, { mtime });
  for (const { name, path } of parts) zip.addFile(path, name, { mtime, compress: name === RECORD });
  zip.end();
  await written;
};

/** Writes the archive; complete under its name or not there at all. Throws `cannot-do` where a file of that name is there. */
export const writeArchive = async (record: StudioRecord, out: string, now_utc: string): Promise<void> => {
  if (existsSync(out)) throw new AfterfireError('cannot-do', `${out}: there is a file of that name already`);
  const part = `${out}.part`;
  const photos = photoParts(record);
  let work: string | undefined;
  try {
    work = mkdtempSync(join(dirname(resolve(out)), '.afterfire-'));
    const copy = join(work, RECORD);
    copyRecord(record.db, copy);
    const table = Buffer.from(piecesToCsv(record.db), 'utf8');
    await zipTo(part, [{ name: RECORD, path: copy, sha256: sha256OfFile(copy) }, ...photos], table, now_utc);
    syncFile(part);
    renameSync(part, out);
  } catch (error) {
    rmSync(part, { force: true });
    throw error instanceof AfterfireError ? error : diskTrouble(out, error);
  } finally {
    if (work) rmSync(work, { recursive: true, force: true });
  }
};

const readWhole = async (stream: Readable): Promise<string> => {
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString('utf8');
};

const notWhole = (path: string, what: string): AfterfireError =>
  badInput(path, what, 'a whole archive of a studio: copy it again, or write another');

const openZip = async (path: string): Promise<yauzl.ZipFile> => {
  if (!existsSync(path)) throw new AfterfireError('not-found', `${path}: there is no such file`);
  return yauzl.openPromise(path, { lazyEntries: true, strictFileNames: true }).catch((error: Error) => {
    throw notWhole(path, error.message);
  });
};

const readManifest = async (path: string): Promise<Manifest> => {
  const zip = await openZip(path);
  try {
    for await (const entry of zip.eachEntry()) {
      if (entry.fileName !== MANIFEST) continue;
      if (entry.uncompressedSize > MAX_MANIFEST_BYTES) break;
      const text = await readWhole(await zip.openReadStreamPromise(entry));
      return parseShape(Manifest, parseJson(`${path}, ${MANIFEST}`, text), 'manifest');
    }
  } catch (error) {
    throw error instanceof AfterfireError ? error : notWhole(path, (error as Error).message);
  } finally {
    zip.close();
  }
  throw notWhole(path, `no ${MANIFEST} in it`);
};

/** Unpacks what the list names into a folder, each checked. */
const unpack = async (path: string, folder: string): Promise<void> => {
  const wanted = new Map((await readManifest(path)).files.map((file) => [file.name, file]));
  if (!wanted.has(RECORD)) throw notWhole(path, `no ${RECORD} in it`);
  const zip = await openZip(path);
  try {
    for await (const entry of zip.eachEntry()) {
      const file = wanted.get(entry.fileName);
      if (!file || entry.fileName === TABLE) continue;
      if (entry.uncompressedSize !== file.bytes) throw notWhole(path, `${file.name} of another length`);
      const to = join(folder, file.name);
      mkdirSync(dirname(to), { recursive: true });
      await pipeline(await zip.openReadStreamPromise(entry), createWriteStream(to, { flags: 'wx' }));
      if (sha256OfFile(to) !== file.sha256) throw notWhole(path, `${file.name} with other content`);
      syncFile(to);
      wanted.delete(entry.fileName);
    }
  } catch (error) {
    throw error instanceof AfterfireError ? error : unpackTrouble(path, error);
  } finally {
    zip.close();
  }
  const missing = [...wanted.keys()].filter((name) => name !== TABLE);
  if (missing.length > 0) throw notWhole(path, `no ${missing[0]} in it`);
};

/** Of the ZIP itself, or of the disk it is unpacked to. */
const unpackTrouble = (path: string, error: unknown): unknown => {
  const { errno, code, message } = error as NodeJS.ErrnoException;
  return errno === undefined || code?.startsWith('Z_') ? notWhole(path, message) : diskTrouble(path, error);
};

/** The record that was unpacked: whole, and brought forward if it is of an older version, before it is let in. */
const lookInto = (path: string, copy: string): void => {
  try {
    checkBackup(copy);
    closeRecord(openRecord(copy));
  } catch (error) {
    if (!(error instanceof AfterfireError) || error.code !== 'bad-input') throw error;
    throw notWhole(path, `a damaged record in it (${error.faults[0]?.value})`);
  }
};

/**
 * Makes a record from an archive: all of it or nothing.
 * @param target a record that is not there yet
 */
export const readArchive = async (path: string, target: string): Promise<void> => {
  const { photos } = foldersOf(target);
  for (const there of [target, photos])
    if (existsSync(there))
      throw new AfterfireError('cannot-do', `${there}: it is there already; it was not touched`);
  let work: string | undefined;
  try {
    work = mkdtempSync(join(dirname(resolve(target)), '.afterfire-'));
    await unpack(path, work);
    const copy = join(work, RECORD);
    lookInto(path, copy);
    const unpacked = join(work, 'photos');
    if (existsSync(unpacked)) renameSync(unpacked, photos);
    renameSync(copy, target);
  } catch (error) {
    throw error instanceof AfterfireError ? error : diskTrouble(target, error);
  } finally {
    if (work) rmSync(work, { recursive: true, force: true });
  }
};
