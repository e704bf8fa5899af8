import { expect, test } from 'vitest';
import { tabAfter } from './tabs.ts';

test('arrows wrap round, Home and End go to the ends (W3C ARIA Authoring Practices Guide, tabs pattern)', () => {
  const from = (i: number) => ['ArrowLeft', 'ArrowRight', 'Home', 'End'].map((key) => tabAfter(key, i, 4));
  expect(from(0)).toEqual([3, 1, 0, 3]);
  expect(from(3)).toEqual([2, 0, 0, 3]);
  expect(tabAfter('ArrowDown', 0, 4)).toBeUndefined();
});
