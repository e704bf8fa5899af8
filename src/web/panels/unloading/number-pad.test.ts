import { expect, test } from 'vitest';
import { typedBy } from './number-pad.ts';

test('the pad types as a till does: the first figure begins anew, a point once, a sign to and fro', () => {
  expect(typedBy('3', '86.5', true)).toBe('3');
  expect(typedBy('3', '86.', false)).toBe('86.3');
  expect(typedBy('.', '', true)).toBe('0.');
  expect(typedBy('.', '8.6', false)).toBe('8.6');
  expect(typedBy('wipe', '86.5', false)).toBe('86.');
  expect(typedBy('wipe', '86.5', true)).toBe('');
  expect(typedBy('sign', '1.5', false)).toBe('-1.5');
  expect(typedBy('sign', '-1.5', false)).toBe('1.5');
});
