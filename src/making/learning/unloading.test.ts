import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseUnloading } from './unloading.ts';

const examples = new URL('../../../examples/', import.meta.url);
const read = (name: string): Record<string, unknown> =>
  JSON.parse(readFileSync(new URL(name, examples), 'utf8'));
const names = readdirSync(examples).filter((name) => name.endsWith('.unloading.json'));

test('the demo studio: six unloadings, twenty pieces, two kilns, three attitudes, each saying that it is invented', () => {
  const all = names.map((name) => parseUnloading(read(name)));
  expect(all).toHaveLength(6);
  expect(all.flatMap((u) => u.pieces)).toHaveLength(20);
  expect(new Set(all.map((u) => u.kiln)).size).toBe(2);
  const attitudes = all.flatMap((u) =>
    u.pieces.map((p) => (typeof p.setting === 'string' ? '' : p.setting.attitude)),
  );
  expect(new Set(attitudes).size).toBe(3);
  for (const u of all) expect(u.note).toContain('Invented');
});

const good = read(names[0]);
const withPiece = (more: object): unknown => ({
  ...good,
  pieces: [{ number: '1', form: 'a.form.json', setting: { attitude: 'upright' }, ...more }],
});

test.each([
  ['a day that is none', { ...good, date: '2026-02-30' }, 'unloading.date'],
  ['no pieces', { ...good, pieces: [] }, 'unloading.pieces'],
  ['a field without its unit', withPiece({ measured: { height: 90 } }), 'did you mean height_mm'],
  [
    'a lip narrower than narrow',
    withPiece({ measured: { lipWidth: { greatest_mm: 80, least_mm: 90 } } }),
    'no more than greatest_mm, 80',
  ],
  ['a loss nobody knows', withPiece({ loss: { cause: 'exploded' } }), 'measured.loss'.slice(9)],
  [
    'an outline under the shelf',
    withPiece({
      measured: {
        outline: {
          points_mm: [
            [0, 0],
            [10, 0],
            [5, -4],
          ],
        },
      },
    }),
    'no point above the shelf',
  ],
])('%s is refused by name', (_, json, said) => {
  expect(() => parseUnloading(json)).toThrow(said);
});

test('the same number twice is refused', () => {
  const piece = { number: '7', form: 'a.form.json', setting: { attitude: 'upright' } };
  expect(() => parseUnloading({ ...good, pieces: [piece, piece] })).toThrow('pieces[1].number: got 7');
});
