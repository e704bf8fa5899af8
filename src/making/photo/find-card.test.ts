import { PNG } from 'pngjs';
import { beforeAll, expect, test } from 'vitest';
import { pngOf } from '../../cli/drawing/png.ts';
import { cameraOf } from './camera.ts';
import { findCard } from './find-card.ts';
import { through } from './homography.ts';
import type { Picture } from './picture.ts';
import { CARD_MARGIN_m, discMiddles, SCALE_CARDS, type ScaleCard } from './scale-card.ts';
import { type Paper, scaleCardSvg } from './scale-card-svg.ts';

/** Dots a mm, so that a sheet comes to whole pixels. */
const DOTS_LETTER = 10;
const DOTS = 5;

const dotsOf = (paper: Paper): number => (paper === 'A4' ? DOTS : DOTS_LETTER);
/** The sheet as a drawing library prints it: an outside witness of where the discs are. */
const printed = async (paper: Paper, card: ScaleCard['name']): Promise<Picture> => {
  const { width, height, data } = PNG.sync.read(
    Buffer.from(await pngOf(scaleCardSvg(paper, card), dotsOf(paper))),
  );
  return { width, height, data: new Uint8ClampedArray(data) };
};

const turned = (p: Picture, at: (x: number, y: number) => [number, number], swap: boolean): Picture => {
  const [width, height] = swap ? [p.height, p.width] : [p.width, p.height];
  const data = new Uint8ClampedArray(p.data.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [u, v] = at(x, y);
      data.set(p.data.subarray(4 * (v * p.width + u), 4 * (v * p.width + u) + 4), 4 * (y * width + x));
    }
  return { width, height, data };
};

let small: Picture;
beforeAll(async () => {
  small = await printed('A4', 'small');
});

test.each([
  ['A4', 'small'],
  ['A4', 'large'],
  ['Letter', 'small'],
  ['Letter', 'large'],
] as const)('the card on a printed %s sheet, %s, is known and in true mm', async (paper, name) => {
  const found = findCard(await printed(paper, name));
  expect(found?.card.name).toBe(name);
  const card = SCALE_CARDS.find((c) => c.name === name) as ScaleCard;
  const dots = dotsOf(paper);
  const sheet_mm = paper === 'A4' ? 297 : 279.4;
  const left = sheet_mm / 2 - 500 * card.across_m;
  discMiddles(card).forEach(([x, z], i) => {
    const [u, v] = found?.discs_px[i] ?? [0, 0];
    const bottom = 7 + 1000 * (card.up_m + 2 * CARD_MARGIN_m);
    expect(Math.abs(u / dots - (left + 1000 * x))).toBeLessThan(0.02);
    expect(Math.abs(v / dots - (bottom - 1000 * z))).toBeLessThan(0.02);
  });
  expect(found?.misfit).toBeLessThan(0.03);
});

test('the sheets have the sizes of ISO 216 and of Letter, and the drawing ends on them', () => {
  expect(scaleCardSvg('A4')).toContain('width="297mm" height="210mm" viewBox="0 0 297 210"');
  expect(scaleCardSvg('Letter')).toContain('width="279.4mm" height="215.9mm"');
  for (const [paper, high] of [
    ['A4', 210],
    ['Letter', 215.9],
  ] as const) {
    const lines = [...scaleCardSvg(paper, 'large').matchAll(/ y="([\d.]+)"/g)].map(([, y]) => Number(y));
    expect(Math.max(...lines)).toBeLessThan(high - 5);
  }
  expect(() => scaleCardSvg('A3' as Paper)).toThrow(/A4 or Letter/);
});

test('a picture on its side or upside down shows the same card; a mirrored one shows none', () => {
  const side = findCard(turned(small, (x, y) => [y, small.height - 1 - x], true));
  const over = findCard(turned(small, (x, y) => [small.width - 1 - x, small.height - 1 - y], false));
  const plain = findCard(small);
  expect(plain && side && over).toBeTruthy();
  if (!plain || !side || !over) return;
  // A quarter turn takes (u, v) to (height − v, u).
  const [u, v] = through(plain.toPicture, 0.2, 0.05);
  const [su, sv] = through(side.toPicture, 0.2, 0.05);
  expect(Math.hypot(su - (small.height - v), sv - u)).toBeLessThan(0.1);
  const [ou, ov] = through(over.toPicture, 0.2, 0.05);
  expect(Math.hypot(ou - (small.width - u), ov - (small.height - v))).toBeLessThan(0.1);
  expect(findCard(turned(small, (x, y) => [small.width - 1 - x, y], false))).toBeUndefined();
});

test('a card the printer shrank by 3 % gives true mm once its discs are measured', () => {
  const found = findCard(small, { across_m: 0.97 * 0.12, up_m: 0.97 * 0.08 });
  expect(found).toBeDefined();
  if (!found) return;
  const [a, b] = [through(found.toPicture, 0, 0.05), through(found.toPicture, 0.1, 0.05)];
  expect(Math.hypot(b[0] - a[0], b[1] - a[1])).toBeCloseTo((100 * DOTS) / 0.97, 0);
});

test('no card in an empty picture, and none with a disc painted out', () => {
  const empty = { width: 800, height: 600, data: new Uint8ClampedArray(4 * 800 * 600).fill(200) };
  expect(findCard(empty)).toBeUndefined();
  const three = { ...small, data: small.data.slice() };
  const [u, v] = findCard(small)?.discs_px[2] ?? [0, 0];
  for (let y = Math.floor(v) - 40; y < v + 40; y++)
    for (let x = Math.floor(u) - 40; x < u + 40; x++)
      three.data.fill(255, 4 * (y * small.width + x), 4 * (y * small.width + x) + 4);
  expect(findCard(three)).toBeUndefined();
});

test('a camera that looks squarely stands before the middle of the picture at focal length over scale', () => {
  // Pinhole: f = D × px per m, so that 2000 px at 5 px a mm is 0.4 m.
  const found = findCard(small);
  if (!found) throw new Error('no card');
  const diagonal = Math.hypot(small.width, small.height);
  const lens35_m = (2000 / diagonal) * Math.hypot(0.036, 0.024);
  const camera = cameraOf(found.toPicture, small, { lens35_m });
  expect(camera.distance_m).toBeCloseTo(0.4, 3);
  expect(camera.x_m).toBeCloseTo(0.06, 3);
  expect(() => cameraOf(found.toPicture, small, { distance_m: 0 })).toThrow(/between 200 and/);
});
