/**
 * Photographs made up from known shapes, read by the program, and how far the outlines found are from the shapes:
 * written to docs/photo.md. What is done is kept in a file of the temporary folder, so it can be run in parts.
 * Run by hand: npx tsx bench/photo-outlines.ts [most minutes = 2]
 */
import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import jpeg from 'jpeg-js';
import { cameraOf } from '../src/making/photo/camera.ts';
import { findOutline } from '../src/making/photo/find-outline.ts';
import { nearestOn, type Ring } from '../src/making/photo/ring.ts';
import { roundBody } from '../src/making/photo/round-body.ts';
import { readPicture } from '../src/store/read-picture.ts';
import { flatShot, roundShot, type Shot } from '../test/photo-pieces.ts';

const notes = path.join(os.tmpdir(), 'afterfire-photo-outlines.jsonl');
const page = new URL('../docs/photo.md', import.meta.url);
const minutes = Number(process.argv[2] ?? 2);

interface Row {
  readonly kind: string;
  readonly seed: number;
  readonly what: string;
  readonly middle: number;
  readonly most95: number;
  readonly most: number;
  readonly troubles: readonly string[];
}

const size = { pxPerMm: 10, width_mm: 310, height_mm: 190 };
const seeds = (count: number): number[] => Array.from({ length: count }, (_, i) => i + 1);
const KINDS: Readonly<Record<string, { shot: (seed: number) => Shot; seeds: readonly number[] }>> = {
  coarse: { shot: (seed) => flatShot(seed, { ...size, pxPerMm: 4 }), seeds: seeds(8) },
  bent: { shot: (seed) => flatShot(seed, { ...size, pxPerMm: 5, bend: 0.01 }), seeds: seeds(4) },
  flat: { shot: (seed) => flatShot(seed, size), seeds: seeds(16) },
  round: { shot: (seed) => roundShot(seed, size), seeds: seeds(8) },
};

/** Distances of each point of one outline from the other, and the other way about; mm, in order of size. */
const distances = (a: Ring, b: Ring): number[] => {
  const list: number[] = [];
  for (const [from, to] of [
    [a, b],
    [b, a],
  ])
    for (let i = 0; i < from.length; i += 2) list.push(1000 * nearestOn(to, from[i], from[i + 1]).distance);
  return list.sort((x, y) => x - y);
};

/** As a camera would keep it: JPEG of good quality, written and read back. */
const kept = async (shot: Shot): Promise<Shot> => {
  const folder = await mkdtemp(path.join(os.tmpdir(), 'afterfire-photo-'));
  const file = path.join(folder, 'piece.jpg');
  await writeFile(file, jpeg.encode(shot.picture, 90).data);
  const { picture } = await readPicture(file);
  await rm(folder, { recursive: true });
  return { ...shot, picture };
};

const rowOf = async (kind: string, seed: number): Promise<Row> => {
  const shot = await kept(KINDS[kind].shot(seed));
  const { outline, card, troubles } = findOutline(shot.picture);
  const told = troubles.map((t) => t.kind);
  if (!outline || !card)
    return {
      kind,
      seed,
      what: shot.what,
      middle: Number.NaN,
      most95: Number.NaN,
      most: Number.NaN,
      troubles: told,
    };
  const camera = cameraOf(card.toPicture, shot.picture, { distance_m: shot.eye.at[2] });
  const found = kind === 'round' ? roundBody(outline, camera) : outline;
  const off = distances(found.points_m, shot.truth);
  return {
    kind,
    seed,
    what: shot.what,
    middle: off[off.length >> 1],
    most95: off[Math.floor(0.95 * off.length)],
    most: off[off.length - 1],
    troubles: told,
  };
};

const rows: Row[] = existsSync(notes)
  ? readFileSync(notes, 'utf8')
      .trim()
      .split('\n')
      .filter(Boolean)
      .map((line) => JSON.parse(line))
  : [];
const begun = Date.now();
for (const [kind, { seeds: list }] of Object.entries(KINDS))
  for (const seed of list) {
    if (rows.some((r) => r.kind === kind && r.seed === seed) || Date.now() - begun > 60_000 * minutes)
      continue;
    const row = await rowOf(kind, seed);
    rows.push(row);
    appendFileSync(notes, `${JSON.stringify(row)}\n`);
    console.log(JSON.stringify(row));
  }

const mm = (x: number | null): string => (x === null || !Number.isFinite(x) ? 'none' : x.toFixed(2));
const table = (kind: string): string =>
  [
    '| picture | what | half of the points within | 95 % within | all within | told |',
    '| --- | --- | --- | --- | --- | --- |',
    ...rows
      .filter((r) => r.kind === kind)
      .map(
        (r) =>
          `| ${r.seed} | ${r.what} | ${mm(r.middle)} | ${mm(r.most95)} | ${mm(r.most)} | ${r.troubles.join(', ')} |`,
      ),
  ].join('\n');

const text = readFileSync(page, 'utf8');
writeFileSync(
  page,
  Object.keys(KINDS).reduce(
    (all, kind) =>
      all.replace(
        new RegExp(`(<!-- ${kind} -->\\n)[^]*?(<!-- end -->)`),
        (_, open: string, close: string) => `${open}\n${table(kind)}\n\n${close}`,
      ),
    text,
  ),
);
