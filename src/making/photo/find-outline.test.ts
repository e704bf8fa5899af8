import { expect, test } from 'vitest';
import { flatShot, roundShot, type Shot } from '../../../test/photo-pieces.ts';
import { seenAt } from '../../../test/photo-scenes.ts';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { cameraOf } from './camera.ts';
import { compareWithFired } from './compare-with-fired.ts';
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

/** A very thin wall: the right half of a section (its first 25 points) spun about its axis. */
const spun = (section: Float64Array, axis: number): WallMesh => {
  const [rings, around] = [25, 240];
  const positions = new Float64Array(3 * rings * around);
  const triangles: number[] = [];
  for (let r = 0; r < rings; r++)
    for (let k = 0; k < around; k++) {
      const [a, radius] = [(2 * Math.PI * k) / around, section[2 * r] - axis];
      const p = r * around + k;
      positions.set([radius * Math.cos(a), radius * Math.sin(a), section[2 * r + 1]], 3 * p);
      if (r + 1 === rings) continue;
      const q = r * around + ((k + 1) % around);
      triangles.push(p, q, q + around, p, q + around, p + around);
    }
  const thickness_m = new Float64Array(rings * around).fill(1e-6);
  return { positions, triangles: Uint32Array.from(triangles), thickness_m };
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
  const shot = flatShot(5, { pxPerMm: 10, width_mm: 300, height_mm: 150 });
  expect(farthest_mm(readIn(shot.picture).outline, shot.truth)).toBeLessThan(0.5);
}, 60_000);

test('at 5 px a mm too, and the discs to a twentieth of a pixel', () => {
  for (const seed of [13]) {
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
  // The other way: the same body foreseen through the same lens, laid over what was seen.
  const wall = spun(shot.truth, 0.212);
  const near = compareWithFired(seen, wall, { from_deg: -90, camera });
  expect(Math.abs(near.greatest_m)).toBeLessThan(0.0005);
  expect(Math.abs(near.shift_m + 0.212)).toBeLessThan(0.0002);
  const afar = compareWithFired(seen, wall, { from_deg: -90 });
  expect(Math.abs(afar.greatest_m)).toBeGreaterThan(0.0008);
}, 60_000);

const TINY = { pxPerMm: 3.5, width_mm: 310, height_mm: 190 };
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
  const shot = flatShot(3, TINY);
  // Half of the right wall is lost: smeared over on both sides of the edge.
  const [u, v] = seenAt(shot.eye, [0.24, 0.04, 0]);
  const { width, data } = shot.picture;
  const out = data.slice();
  const reach = 70;
  for (let y = Math.floor(v - 42); y < v + 42; y++)
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
