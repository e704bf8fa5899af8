import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import exifr from 'exifr';
import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { pictureKind, readPicture, upright } from './read-picture.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'afterfire-picture-'));
});
afterAll(() => rm(folder, { recursive: true }));
const file = async (name: string, bytes: Uint8Array): Promise<string> => {
  const at = path.join(folder, name);
  await writeFile(at, bytes);
  return at;
};

/** 6 × 4 blocks of 8 pixels, each of its own colour. */
const blocks = () => {
  const [width, height] = [48, 32];
  const data = new Uint8ClampedArray(4 * width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      data.set([40 * (x >> 3) + 20, 60 * (y >> 3) + 20, 128, 255], 4 * (y * width + x));
  return { width, height, data };
};
const pngOf = ({ width, height, data }: ReturnType<typeof blocks>): Buffer => {
  const png = new PNG({ width, height });
  png.data = Buffer.from(data);
  return PNG.sync.write(png);
};
/** A JPEG's first bytes with an Exif block of two entries: orientation, and the lens as for 36 × 24 mm film. */
const withExif = (bytes: Uint8Array, orientation: number, lens35: number): Buffer => {
  const tiff = Buffer.alloc(56);
  tiff.write('MM\0*', 0, 'latin1');
  tiff.writeUInt32BE(8, 4);
  tiff.writeUInt16BE(2, 8);
  const entry = (at: number, tag: number, type: number, value: number): void => {
    tiff.writeUInt16BE(tag, at);
    tiff.writeUInt16BE(type, at + 2);
    tiff.writeUInt32BE(1, at + 4);
    if (type === 3) tiff.writeUInt16BE(value, at + 8);
    else tiff.writeUInt32BE(value, at + 8);
  };
  entry(10, 0x0112, 3, orientation);
  entry(22, 0x8769, 4, 38);
  tiff.writeUInt16BE(1, 38);
  entry(40, 0xa405, 3, lens35);
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
  const head = Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255]);
  return Buffer.concat([bytes.subarray(0, 2), head, body, bytes.subarray(2)]);
};

test('a PNG comes back pixel for pixel, a JPEG nearly, whatever the name says', async () => {
  const given = blocks();
  const png = await readPicture(await file('a.jpg', pngOf(given)));
  expect(png.picture).toEqual(given);
  const { picture } = await readPicture(await file('b.png', jpeg.encode(given, 95).data));
  expect([picture.width, picture.height]).toEqual([48, 32]);
  expect(picture.data.every((v, i) => Math.abs(v - given.data[i]) < 12)).toBe(true);
});

test('what the camera noted: turned upright, and the lens in metres', async () => {
  const noted = withExif(jpeg.encode(blocks(), 95).data, 6, 77);
  const { picture, lens35_m } = await readPicture(await file('c.jpg', noted));
  expect([picture.width, picture.height]).toEqual([32, 48]);
  expect(lens35_m).toBe(0.077);
  // Number 6: what is stored as the first column belongs on top; the stored lower left corner comes to the upper left.
  expect(picture.data[0]).toBeLessThan(40);
  expect(picture.data[1]).toBeGreaterThan(180);
});

test('all eight ways a camera is held, against the turns that an outside reader of such notes gives', async () => {
  const given = blocks();
  const stored = jpeg.encode(given, 95).data;
  for (let way = 1; way <= 8; way++) {
    const turn = await exifr.rotation(withExif(stored, way, 50));
    if (!turn) throw new Error('no turn');
    const { width, height, data } = upright(given, way);
    expect(turn.dimensionSwapped).toBe(width !== given.width);
    // Its rule: mirror by the scales, then turn clockwise by so many degrees.
    const [mx, my] = [given.width / 2, given.height / 2];
    for (const [x, y] of [
      [3, 3],
      [44, 11],
      [20, 28],
    ]) {
      const [u, v] = [turn.scaleX * (x + 0.5 - mx), turn.scaleY * (y + 0.5 - my)];
      const [c, s] = [Math.round(Math.cos(turn.rad)), Math.round(Math.sin(turn.rad))];
      const at = [Math.floor(c * u - s * v + width / 2), Math.floor(s * u + c * v + height / 2)];
      const q = 4 * (at[1] * width + at[0]);
      const p = 4 * (y * given.width + x);
      expect([...data.subarray(q, q + 3)], `way ${way}`).toEqual([...given.data.subarray(p, p + 3)]);
    }
  }
});

test('what cannot be read is named, with what to do', async () => {
  await expect(readPicture(path.join(folder, 'none.jpg'))).rejects.toThrow(/no such file/);
  await expect(readPicture(folder)).rejects.toThrow(/a folder/);
  await expect(readPicture(await file('t.jpg', Buffer.from('hello there, no picture')))).rejects.toThrow(
    /got "no picture"; expected a JPEG or PNG/,
  );
  const heic = Buffer.from('\0\0\0\x18ftypheic\0\0\0\0', 'latin1');
  expect(pictureKind(heic)).toBe('heic');
  await expect(readPicture(await file('h.heic', heic))).rejects.toThrow(/HEIC picture.*export/);
  const whole = jpeg.encode(blocks(), 95).data;
  await expect(readPicture(await file('cut.png', pngOf(blocks()).subarray(0, 60)))).rejects.toThrow(
    /damaged/,
  );
  await expect(readPicture(await file('cut.jpg', whole.subarray(0, 40)))).rejects.toThrow(/damaged/);
});

test('a small file that says it is huge is refused before it is unpacked', async () => {
  const png = pngOf(blocks());
  png.writeUInt32BE(60_000, 16);
  png.writeUInt32BE(60_000, 20);
  await expect(readPicture(await file('bomb.png', png))).rejects.toMatchObject({ code: 'too-large' });
  const jpg = Buffer.from(jpeg.encode(blocks(), 95).data);
  const frame = jpg.indexOf(Buffer.from([0xff, 0xc0]));
  jpg.writeUInt16BE(60_000, frame + 5);
  jpg.writeUInt16BE(60_000, frame + 7);
  await expect(readPicture(await file('bomb.jpg', jpg))).rejects.toMatchObject({ code: 'too-large' });
});
