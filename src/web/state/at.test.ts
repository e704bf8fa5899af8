import { expect, test } from 'vitest';
import { fieldOf, valueAt, withAt } from './at.ts';

const form = { line: [{ r: 1 }, { r: 2 }], lip: { t: 3 } };

test('a value inside is read, changed and taken away, and the old record stays as it was', () => {
  expect(valueAt(form, ['line', 1, 'r'])).toBe(2);
  expect(valueAt(form, ['nowhere', 1, 'r'])).toBeUndefined();
  expect(withAt(form, ['line', 1, 'r'], 9)).toEqual({ line: [{ r: 1 }, { r: 9 }], lip: { t: 3 } });
  expect(withAt(form, ['line', 0], undefined)).toEqual({ line: [{ r: 2 }], lip: { t: 3 } });
  expect(withAt(form, ['lip'], undefined)).toEqual({ line: [{ r: 1 }, { r: 2 }] });
  expect(form).toEqual({ line: [{ r: 1 }, { r: 2 }], lip: { t: 3 } });
});

test('a field is named as the messages of the checks name it', () => {
  expect(fieldOf(['form', 'line', 2, 'radius_mm'])).toBe('form.line[2].radius_mm');
});
