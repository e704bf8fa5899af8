import { expect, test } from 'vitest';
import type { Entry } from '../../../making/record/entry.ts';
import { stepsToUndo } from './journal-list.ts';

const entry = (id: number, kind: Entry['kind'], undoes?: number): Entry => ({
  id,
  batch: id,
  kind,
  at_utc: '2026-01-01T08:00:00.000Z',
  zone: 'UTC',
  piece: 1,
  data: {},
  note: '',
  ...(undoes === undefined ? {} : { undoes }),
});

test('undo goes back step by step, redo goes forward again, and stops where something new was written', () => {
  const begun = entry(1, 'begun');
  const life = [begun, entry(2, 'formed'), entry(3, 'carved')];
  expect(stepsToUndo([begun])).toEqual({ undo: undefined, redo: undefined });
  expect(stepsToUndo(life)).toMatchObject({ undo: { id: 3 }, redo: undefined });
  const once = [...life, entry(4, 'undone', 3)];
  expect(stepsToUndo(once)).toMatchObject({ undo: { id: 2 }, redo: { id: 4 } });
  const twice = [...once, entry(5, 'undone', 2)];
  expect(stepsToUndo(twice)).toMatchObject({ redo: { id: 5 } });
  const back = [...twice, entry(6, 'undone', 5)];
  expect(stepsToUndo(back)).toMatchObject({ undo: { id: 2 }, redo: { id: 4 } });
  const on = [...once, entry(5, 'noted')];
  expect(stepsToUndo(on)).toMatchObject({ undo: { id: 5 }, redo: undefined });
});
