import { createHash, randomUUID } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { AfterfireError, badInput } from '../error.ts';
import type { Db } from './db.ts';
import type { StudioRecord } from './record.ts';

/**
 * Photos, each a file named by the SHA-256 of what is in it, in a folder beside the record: the same photo is kept once,
 * and one that was damaged gives itself away. A name from outside never reaches the disk.
 */

export const MAX_PHOTO_BYTES = 25_000_000;

const FORMATS = ['jpeg', 'png', 'webp'] as const;
export type PhotoFormat = (typeof FORMATS)[number];

const startsWith = (bytes: Uint8Array, at: number, signs: readonly number[]): boolean =>
  signs.every((sign, i) => bytes[at + i] === sign);

/** What the first bytes say it is: ISO 10918 (SOI, then a marker), the PNG signature, a RIFF of WEBP. */
export const sniff = (bytes: Uint8Array): PhotoFormat | undefined => {
  if (startsWith(bytes, 0, [0xff, 0xd8, 0xff])) return 'jpeg';
  if (startsWith(bytes, 0, [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])) return 'png';
  if (startsWith(bytes, 0, [0x52, 0x49, 0x46, 0x46]) && startsWith(bytes, 8, [0x57, 0x45, 0x42, 0x50]))
    return 'webp';
  return undefined;
};

/** Whether the end is there too: a camera card pulled out early leaves a photo that starts well. */
const isWhole = (bytes: Uint8Array, format: PhotoFormat): boolean => {
  switch (format) {
    case 'jpeg': {
      // Some cameras write more after the end of the picture.
      for (let i = bytes.length - 2; i > 2; i--) if (bytes[i] === 0xff && bytes[i + 1] === 0xd9) return true;
      return false;
    }
    case 'png':
      return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).lastIndexOf('IEND') > 0;
    case 'webp':
      return new DataView(bytes.buffer, bytes.byteOffset).getUint32(4, true) + 8 <= bytes.length;
  }
};

export const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

const SHA256 = /^[0-9a-f]{64}$/;

/** Where a photo lies in a folder of photos. Throws `bad-input` for what is no SHA-256. */
export const photoPath = (folder: string, sha256: string, format: string): string => {
  if (!SHA256.test(sha256)) throw badInput('photo', sha256, 'a SHA-256 in hexadecimal');
  if (!FORMATS.some((f) => f === format)) throw badInput('photo.format', format, FORMATS.join(', '));
  return join(folder, sha256.slice(0, 2), `${sha256}.${format}`);
};

/** What the system says of a file that could not be written, in words. */
export const diskTrouble = (path: string, error: unknown): unknown => {
  const { code, errno } = error as NodeJS.ErrnoException;
  if (errno === undefined) return error; // not the system's word
  const why = code === 'ENOSPC' || code === 'EFBIG' ? 'the disk is full' : `it cannot be written (${code})`;
  return new AfterfireError(
    'cannot-do',
    `${path}: ${why}. Nothing before it is lost; make room and do it again`,
  );
};

/** Writes a file whole or not at all: beside its place, to the disk itself, then under its name. */
export const writeWhole = (folder: string, path: string, bytes: Uint8Array): void => {
  const beside = join(folder, `.${randomUUID()}.part`);
  try {
    mkdirSync(folder, { recursive: true });
    const file = openSync(beside, 'wx');
    try {
      for (let at = 0; at < bytes.length; ) at += writeSync(file, bytes, at);
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(beside, path);
    syncFolder(folder);
  } catch (error) {
    rmSync(beside, { force: true });
    throw diskTrouble(path, error);
  }
};

/** Brings a file that others wrote to the disk itself. */
export const syncFile = (path: string): void => {
  const file = openSync(path, 'r+');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
};

/** A new name is safe only when its folder is on the disk too; some systems cannot sync a folder and need not. */
const syncFolder = (folder: string): void => {
  if (process.platform === 'win32') return;
  const file = openSync(folder, 'r');
  try {
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
};

export interface Photo {
  readonly sha256: string;
  readonly format: PhotoFormat;
  readonly bytes: number;
  readonly added_utc: string;
}

export const photoBySha = (db: Db, sha256: string): Photo | undefined =>
  db.one<Photo>('SELECT * FROM photo WHERE sha256 = ?', sha256);

export const allPhotos = (db: Db): Photo[] => db.all<Photo>('SELECT * FROM photo ORDER BY added_utc, sha256');

/**
 * Keeps a photo; the same one again is kept once. The file is on the disk before the record names it.
 * @throws AfterfireError `too-large`, or `bad-input` for what is no whole JPEG, PNG or WebP
 */
export const keepPhoto = ({ db, photos }: StudioRecord, bytes: Uint8Array, now_utc: string): Photo => {
  if (bytes.length > MAX_PHOTO_BYTES)
    throw new AfterfireError(
      'too-large',
      `photo: it has ${(bytes.length / 1e6).toFixed(1)} MB; at most ${MAX_PHOTO_BYTES / 1e6} MB`,
    );
  const format = sniff(bytes);
  if (!format) throw badInput('photo', 'something else', 'a JPEG, PNG or WebP picture');
  if (!isWhole(bytes, format))
    throw badInput(
      'photo',
      `a ${format} picture without its end`,
      'a whole one: it was not copied to the end',
    );
  const sha256 = sha256Of(bytes);
  const path = photoPath(photos, sha256, format);
  const there = existsSync(path) && sha256Of(readFileSync(path)) === sha256;
  if (!there) writeWhole(join(photos, sha256.slice(0, 2)), path, bytes);
  db.run(
    'INSERT INTO photo (sha256, format, bytes, added_utc) VALUES (?, ?, ?, ?) ON CONFLICT (sha256) DO NOTHING',
    sha256,
    format,
    bytes.length,
    now_utc,
  );
  return photoBySha(db, sha256)!;
};

export const MAX_SMALL_BYTES = 200_000;

/** Ties a small picture, made where the photo was handed in, to its photo; the first one stays. */
export const keepSmallPhoto = (
  record: StudioRecord,
  photo: string,
  bytes: Uint8Array,
  now_utc: string,
): Photo => {
  if (!photoBySha(record.db, photo)) throw badInput('photo', photo, 'a photo that is in the record');
  if (bytes.length > MAX_SMALL_BYTES)
    throw new AfterfireError('too-large', `small photo: at most ${MAX_SMALL_BYTES / 1000} kB`);
  return record.db.together(() => {
    const small = keepPhoto(record, bytes, now_utc);
    record.db.run(
      'INSERT INTO small_photo (photo, small) VALUES (?, ?) ON CONFLICT (photo) DO NOTHING',
      photo,
      small.sha256,
    );
    return small;
  });
};

/** The small picture of a photo, if one was made. */
export const smallPhotoOf = (db: Db, photo: string): string | undefined =>
  db.one<{ small: string }>('SELECT small FROM small_photo WHERE photo = ?', photo)?.small;

/** A photo's bytes. Throws `not-found`, or `cannot-do` where the file is damaged. */
export const readPhoto = (
  { db, photos }: StudioRecord,
  sha256: string,
): { readonly format: PhotoFormat; readonly bytes: Uint8Array } => {
  const photo = SHA256.test(sha256) ? photoBySha(db, sha256) : undefined;
  const path = photo && photoPath(photos, sha256, photo.format);
  if (!path || !existsSync(path))
    throw new AfterfireError(
      'not-found',
      `photo ${sha256.slice(0, 12)}: it is not there; a backup may have it`,
    );
  const bytes = readFileSync(path);
  if (sha256Of(bytes) !== sha256)
    throw new AfterfireError(
      'cannot-do',
      `photo ${sha256.slice(0, 12)}: the file is damaged; a backup may have it whole (afterfire record check names all)`,
    );
  return { format: photo.format, bytes };
};

/** Photos that the record names and the folder does not hold whole, in words. */
export const photoTrouble = (db: Db, folder: string): string[] =>
  allPhotos(db).flatMap(({ sha256, format }) => {
    const path = photoPath(folder, sha256, format);
    if (!existsSync(path)) return [`photo ${sha256}: its file is missing`];
    return sha256Of(readFileSync(path)) === sha256 ? [] : [`photo ${sha256}: its file is damaged`];
  });
