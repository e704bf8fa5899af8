import { expect, test } from 'vitest';
import { inBoxUnit } from './number-box.ts';

test('what would be right is told in the unit of the box', () => {
  expect(inBoxUnit('at least 0.067: below that is the floor', 100, '%')).toBe(
    'at least 6.7 %: below that is the floor',
  );
  expect(inBoxUnit('more than alongFrom (0.4)', 100, '%')).toBe('more than alongFrom (0.4)');
});
