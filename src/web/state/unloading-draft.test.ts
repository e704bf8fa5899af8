import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseUnloading } from '../../making/learning/unloading.ts';
import { measuredOf, photographedValues } from './measure-rows.ts';
import type { Studio } from './page.ts';
import { draftOf, unloadingOf } from './unloading-draft.ts';

const NOBODY = { settings: {} } as unknown as Studio;
const FILES = readdirSync('examples').filter((name) => name.endsWith('.unloading.json'));

test.each(FILES)('%s opened and written again is the same but for its name', (file) => {
  const { name: _, ...read } = parseUnloading(JSON.parse(readFileSync(`examples/${file}`, 'utf8')));
  const { name: __, ...written } = unloadingOf(draftOf({ name: 'any', ...read }, NOBODY));
  expect(written).toEqual(read);
});

test('nothing measured is left out, and a single mark of the lip is kept', () => {
  expect(measuredOf({}, 0.5, undefined)).toBeUndefined();
  expect(measuredOf({ 'drop at 90': -1.5 }, 0.5, undefined)).toEqual({
    plusMinus_mm: 0.5,
    lipDrop: { points: [{ angle_deg: 90, drop_mm: -1.5 }] },
  });
});

test('a photographed rectangle of 80 by 120 mm reads as that, and only upright', () => {
  const points_mm: [number, number][] = [
    [0, 0],
    [80, 0],
    [80, 120],
    [0, 120],
  ];
  const outline = { from_deg: 0, points_mm, plusMinus_mm: 0.5 };
  const read = photographedValues(outline, { attitude: 'upright' });
  expect(read.height).toBeCloseTo(120, 6);
  expect(read.widest).toBeCloseTo(80, 6);
  expect(photographedValues(outline, { attitude: 'rim down' })).toEqual({});
});
