import { expect, test } from 'vitest';
import { change, endGesture, redo, startHistory, undo } from './history.ts';

test('undo walks back, redo forward, and a change after undo forgets what was undone', () => {
  const three = change(change(startHistory(1), 2), 3);
  expect(undo(three).present).toBe(2);
  expect(undo(undo(undo(three))).present).toBe(1);
  expect(redo(undo(three)).present).toBe(3);
  expect(redo(redo(three)).present).toBe(3);
  expect(redo(change(undo(three), 4)).present).toBe(4);
});

test('one drag is undone at once, two drags one after the other', () => {
  const dragged = [2, 3, 4].reduce((h, x) => change(h, x, 'point 1'), startHistory(1));
  expect(undo(dragged).present).toBe(1);
  const again = [5, 6].reduce((h, x) => change(h, x, 'point 1'), endGesture(dragged));
  expect(undo(again).present).toBe(4);
});

test('a change to the same thing is none', () => {
  const h = startHistory({ a: 1 });
  expect(change(h, h.present)).toBe(h);
});
