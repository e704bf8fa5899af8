import { expect, test } from 'vitest';
import { flatShot, roundShot, type Shot } from '../../../test/photo-pieces.ts';
import { seenAt } from '../../../test/photo-scenes.ts';
import { cameraOf } from './camera.ts';
import type { CardFound } from './find-card.ts';
import { findOutline, type Outline } from './find-outline.ts';
import type { Picture } from './picture.ts';
import { nearestOn } from './ring.ts';
import { roundBody } from './round-body.ts';
import { discMiddles } from './scale-card.ts';

/** Greatest distance between an outline and the truth, whichever is asked of the other, mm. */
const farthest_mm = ({ points_m }: Pick<Outline, 'points_m'>, truth: Float64Array): number => {
  let worst = 0;
  for (const [from, to] of [
    [points_m, truth],
    [truth, points_m],
  ])
    for (let i = 0; i < from.length; i += 2)
      worst = Math.max(worst, nearestOn(to, from[i], from[i + 1]).distance);
  return 1000 * worst;
};

const SMALL = { pxPerMm: 5, width_mm: 310, height_mm: 190 };
const readIn = (picture: Picture): { outline: Outline; card: CardFound } => {
  const { outline, card, troubles } = findOutline(picture);
  expect(troubles).toEqual([]);
  if (!outline || !card) throw new Error('no outline');
  return { outline, card };
};

// The truth is the formula that the picture was made from, seen through a pinhole (test/photo-pieces.ts).
test('at 10 px a mm the outline of a flat figure, seen askew, is found within 0.5 mm all round', () => {
  const shot = flatShot(5);
  expect(farthest_mm(readIn(shot.picture).outline, shot.truth)).toBeLessThan(0.5);
}, 60_000);

test('at 5 px a mm too, and the discs to a twentieth of a pixel', () => {
  for (const seed of [3, 13]) {
    const shot = flatShot(seed, SMALL);
    const { outline, card } = readIn(shot.picture);
    expect(farthest_mm(outline, shot.truth)).toBeLessThan(0.5);
    discMiddles(shot.card).forEach(([x, z], i) => {
      const [u, v] = seenAt(shot.eye, [x, z, 0]);
      expect(Math.hypot(u - card.discs_px[i][0], v - card.discs_px[i][1])).toBeLessThan(0.05);
    });
  }
}, 60_000);

test('a round body: its section through the axis within 0.5 mm once the camera is known, and not before', () => {
  const shot = roundShot(4, SMALL);
  const { outline: seen, card } = readIn(shot.picture);
  const camera = cameraOf(card.toPicture, shot.picture, { distance_m: shot.eye.at[2] });
  expect(camera.x_m).toBeCloseTo(shot.eye.at[0], 2);
  expect(camera.z_m).toBeCloseTo(shot.eye.at[1], 2);
  expect(farthest_mm(roundBody(seen, camera), shot.truth)).toBeLessThan(0.5);
  expect(farthest_mm(seen, shot.truth)).toBeGreaterThan(0.8);
}, 60_000);

const TINY = { pxPerMm: 3, width_mm: 310, height_mm: 190 };
const painted = (shot: Shot, box: readonly number[], colour: readonly number[]): Picture => {
  const { width, height, data } = shot.picture;
  const out = data.slice();
  const [left, top, right, bottom] = box;
  for (let y = Math.max(0, Math.floor(top)); y < Math.min(height, bottom); y++)
    for (let x = Math.max(0, Math.floor(left)); x < Math.min(width, right); x++)
      out.set(colour, 4 * (y * width + x));
  return { width, height, data: out };
};

test('trouble is told in plain words: no scale, no piece, cut by the edge', () => {
  const shot = flatShot(3, TINY);
  const { width, height } = shot.picture;
  const kinds = (picture: Picture): string[] => findOutline(picture).troubles.map((t) => t.kind);
  const half = Math.round(0.52 * width);
  const cloth = [...shot.picture.data.subarray(4 * (5 * width + half), 4 * (5 * width + half) + 3)];
  expect(kinds(painted(shot, [0, 0, half, height], cloth))).toEqual(['no-scale']);
  expect(findOutline(painted(shot, [0, 0, half, height], cloth)).troubles[0].text).toMatch(/four dark discs/);
  expect(kinds(flatShot(3, TINY, false).picture)).toEqual(['no-piece']);
  // Cut the picture off through the middle of the piece.
  const cutAt = Math.round(seenAt(shot.eye, [0.212, 0.05, 0])[0]);
  const cut = new Uint8ClampedArray(4 * cutAt * height);
  for (let y = 0; y < height; y++)
    cut.set(shot.picture.data.subarray(4 * y * width, 4 * (y * width + cutAt)), 4 * y * cutAt);
  expect(kinds({ width: cutAt, height, data: cut })).toEqual(['cut-by-edge']);
}, 60_000);

test('a stretch that can hardly be seen is named, with its place', () => {
  const shot = flatShot(3, SMALL);
  // Half of the right wall is lost: smeared over on both sides of the edge.
  const [u, v] = seenAt(shot.eye, [0.24, 0.04, 0]);
  const { width, data } = shot.picture;
  const out = data.slice();
  const reach = 100;
  for (let y = Math.floor(v - 60); y < v + 60; y++)
    for (let x = Math.floor(u - reach); x < u + reach; x++) {
      const share = (x - u + reach) / (2 * reach);
      const [a, b] = [4 * (y * width + Math.floor(u - reach)), 4 * (y * width + Math.floor(u + reach))];
      for (let c = 0; c < 3; c++)
        out[4 * (y * width + x) + c] = (1 - share) * data[a + c] + share * data[b + c];
    }
  const { weak } = findOutline({ ...shot.picture, data: out });
  expect(weak.length).toBeGreaterThan(0);
  // The smeared box is 40 mm wide and 24 mm high.
  expect(Math.abs(weak[0].middle_m[0] - 0.24)).toBeLessThan(0.02);
  expect(Math.abs(weak[0].middle_m[1] - 0.04)).toBeLessThan(0.012);
  expect(findOutline(shot.picture).weak).toEqual([]);
}, 60_000);
