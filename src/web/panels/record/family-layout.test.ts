import { expect, test } from 'vitest';
import type { FormTold } from '../../state/record/answers.ts';
import { layOutFamily } from './family-layout.ts';

const form = (id: number, first_utc: string, parent: number | null = null) =>
  ({ form: id, first_utc, made_utc: first_utc, parent }) as FormTold;
const on = (day: string): string => `${day}T00:00:00.000Z`;

const FAMILY = [
  form(1, on('2025-01-01')),
  form(2, on('2025-01-10'), 1),
  form(3, on('2026-01-01'), 1),
  form(4, on('2026-01-02'), 3),
];

test('time goes to the right in proportion, and no two cards lie over one another', () => {
  const { placed } = layOutFamily(FAMILY, 1000, 100);
  const xs = placed.map(({ x }) => x);
  expect(xs[0]).toBe(0);
  expect(xs[3]).toBe(900);
  expect(xs[1]).toBeCloseTo((9 / 366) * 900, 6);
  for (const a of placed)
    for (const b of placed)
      if (a !== b && a.row === b.row) expect(Math.abs(a.x - b.x)).toBeGreaterThanOrEqual(100);
});

test('a parent that came up after its child, as a record told late has it, is joined to it all the same', () => {
  const { placed } = layOutFamily([form(1, on('2025-01-01'), 2), form(2, on('2025-06-01'))], 1000, 100);
  const [child, parent] = placed;
  expect(child?.from).toEqual({ x: parent?.x, row: parent?.row });
  expect(parent?.x).toBe(900);
});

test('a child knows where its parent stands; marks lie between the first and the last', () => {
  const { placed, marks } = layOutFamily(FAMILY, 1000, 100);
  const [one, two] = placed;
  expect(two?.from).toEqual({ x: one?.x, row: one?.row });
  expect(marks.map(({ text }) => text)).toEqual(['Apr 2025', 'Jul 2025', 'Oct 2025', 'Jan 2026']);
  expect(layOutFamily([form(1, on('2025-01-01'))], 1000, 100).placed[0]).toMatchObject({ x: 0, row: 0 });
});
