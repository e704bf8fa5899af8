import { open } from 'node:fs/promises';
import exifr from 'exifr';
import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import { AfterfireError, badInput } from '../error.ts';
import type { Picture } from '../making/photo/picture.ts';

/** Cameras write less than this; and more pixels than this add nothing to an outline. */
export const MAX_PICTURE_BYTES = 40_000_000;
export const MAX_PIXELS = 60_000_000;

/** A picture the right way up, and what the camera noted of its lens. */
export interface PictureFile {
  readonly picture: Picture;
  /** Focal length as for 36 × 24 mm film, m. */
  readonly lens35_m?: number;
}

type Kind = 'jpeg' | 'png' | 'heic' | 'webp' | 'other';

/** What a file is by its first bytes, whatever its name says. */
export const pictureKind = (b: Uint8Array): Kind => {
  const letters = (from: number, to: number): string => String.fromCharCode(...b.subarray(from, to));
  if (b[0] === 0xff && b[1] === 0xd8 && b[2] === 0xff) return 'jpeg';
  if (b[0] === 0x89 && letters(1, 8) === 'PNG\r\n\x1a\n') return 'png';
  if (letters(4, 8) === 'ftyp' && /heic|heix|mif1|hevc|avif/.test(letters(8, 12))) return 'heic';
  if (letters(0, 4) === 'RIFF' && letters(8, 12) === 'WEBP') return 'webp';
  return 'other';
};

const tooLarge = (path: string, value: string, most: string): AfterfireError =>
  new AfterfireError('too-large', `${path}: it has ${value}; at most ${most}`, [
    { field: path, value, expected: `at most ${most}` },
  ]);

const bytesOf = async (path: string): Promise<Uint8Array> => {
  const file = await open(path, 'r').catch((error: NodeJS.ErrnoException) => {
    if (error.code !== 'ENOENT') throw badInput(path, error.code ?? 'unreadable', 'a readable picture');
    throw new AfterfireError('not-found', `${path}: there is no such file`, [
      { field: path, value: 'nothing', expected: 'a file that exists' },
    ]);
  });
  try {
    const about = await file.stat();
    if (!about.isFile()) throw badInput(path, about.isDirectory() ? 'a folder' : 'no file', 'a picture');
    if (about.size > MAX_PICTURE_BYTES)
      throw tooLarge(path, `${Math.ceil(about.size / 1e6)} MB`, `${MAX_PICTURE_BYTES / 1e6} MB`);
    return await file.readFile();
  } finally {
    await file.close();
  }
};

const decodePng = (path: string, bytes: Uint8Array): Picture => {
  // Width and height stand first in the file: look before anything is unpacked.
  const head = new DataView(bytes.buffer, bytes.byteOffset);
  const pixels = bytes.length > 24 ? head.getUint32(16) * head.getUint32(20) : 0;
  if (pixels > MAX_PIXELS) throw tooLarge(path, `${Math.round(pixels / 1e6)} million pixels`, '60 million');
  const { width, height, data } = PNG.sync.read(Buffer.from(bytes));
  return { width, height, data: new Uint8ClampedArray(data.buffer, data.byteOffset, data.length) };
};

const decodeJpeg = (bytes: Uint8Array): Picture => {
  const { width, height, data } = jpeg.decode(bytes, {
    useTArray: true,
    formatAsRGBA: true,
    maxResolutionInMP: MAX_PIXELS / 1e6,
    maxMemoryUsageInMB: 1500,
  });
  return { width, height, data: new Uint8ClampedArray(data.buffer, data.byteOffset, data.length) };
};

/**
 * Turns a picture as its camera was held: 1 to 8 of the Exif standard (CIPA DC-008, tag 0x0112; from memory). Each
 * number says where the picture's stored top row and left column belong.
 */
export const upright = (picture: Picture, orientation: number): Picture => {
  if (!(orientation >= 2 && orientation <= 8)) return picture;
  const { width: w, height: h, data } = picture;
  const from = new Uint32Array(data.buffer, data.byteOffset, w * h);
  const turned = orientation >= 5;
  const [width, height] = turned ? [h, w] : [w, h];
  const to = new Uint32Array(w * h);
  const flipX = [2, 3, 7, 8].includes(orientation);
  const flipY = [3, 4, 6, 7].includes(orientation);
  for (let y = 0, q = 0; y < height; y++)
    for (let x = 0; x < width; x++, q++) {
      const [u, v] = turned ? [y, x] : [x, y];
      to[q] = from[(flipY ? h - 1 - v : v) * w + (flipX ? w - 1 - u : u)];
    }
  return { width, height, data: new Uint8ClampedArray(to.buffer) };
};

/**
 * Reads a photograph: JPEG or PNG by its first bytes, turned upright as the camera noted.
 * Throws `not-found`, `too-large`, or `bad-input` for what is no picture we can read.
 */
export const readPicture = async (path: string): Promise<PictureFile> => {
  const bytes = await bytesOf(path);
  const kind = pictureKind(bytes);
  if (kind !== 'jpeg' && kind !== 'png')
    throw badInput(
      path,
      { jpeg: '', png: '', heic: 'a HEIC picture', webp: 'a WebP picture', other: 'no picture' }[kind],
      'a JPEG or PNG picture: export the photograph as JPEG',
    );
  const noted: { Orientation?: number; FocalLengthIn35mmFormat?: number } =
    (await exifr
      .parse(bytes, { pick: ['Orientation', 'FocalLengthIn35mmFormat'], translateValues: false })
      .catch(() => undefined)) ?? {};
  try {
    const stored = kind === 'png' ? decodePng(path, bytes) : decodeJpeg(bytes);
    const lens = noted.FocalLengthIn35mmFormat;
    return { picture: upright(stored, noted.Orientation ?? 1), ...(lens ? { lens35_m: lens / 1000 } : {}) };
  } catch (error) {
    if (error instanceof AfterfireError) throw error;
    const message = error instanceof Error ? error.message : String(error);
    if (/limit|maxResolution|maxMemory/i.test(message)) throw tooLarge(path, message, '60 million pixels');
    throw badInput(path, message, 'a whole picture: this file is damaged or cut short');
  }
};
