import { expect, test } from 'vitest';
import { badInput } from '../error.ts';
import { lineAndColumn, parseFile, parseJson } from './json-text.ts';

test('lines and columns are counted from one, as an editor shows them', () => {
  expect(lineAndColumn('ab\ncd', 0)).toBe('line 1, column 1');
  expect(lineAndColumn('ab\ncd', 4)).toBe('line 2, column 2');
});

test.each([
  ['{"a": NaN}', 'line 1, column 7', 'NaN', 'an ordinary, finite number'],
  ['{\n  "a": -Infinity\n}', 'line 2, column 8', '-Infinity', 'an ordinary, finite number'],
  ['{\n  "a": 1,\n}', 'line 3, column 1', '}', 'valid JSON'],
  ['{"a": 1', 'line 1, column 8', 'the end of the file', 'valid JSON'],
  ['', 'line 1, column 1', 'the end of the file', 'valid JSON'],
  ['{"a": 1} x', 'line 1, column 10', 'x', 'valid JSON'],
  ['{"a": 1 // mm\n}', 'line 1, column 9', '// mm', 'valid JSON'],
])('%j: the message says where it stops being JSON', (text, where, token, expected) => {
  expect(() => parseJson('form.json', text)).toThrow(`form.json, ${where}: got`);
  try {
    parseJson('form.json', text);
  } catch (error) {
    expect(error).toMatchObject({ code: 'bad-input', faults: [{ expected }] });
    expect(String(error)).toContain(token);
  }
});

test("a parser's complaint gets the file and the line of the field", () => {
  const text = '{\n  "wall": [\n    { "thickness_mm": -3 }\n  ]\n}';
  const parse = () => {
    throw badInput('form.wall[0].thickness_mm', -3, 'a thickness above 0');
  };
  expect(() => parseFile('vase.json', text, parse)).toThrow(
    'vase.json, line 3, column 23: form.wall[0].thickness_mm: got -3; expected a thickness above 0',
  );
});

test('a field that is not in the file is named without a line', () => {
  const parse = () => {
    throw badInput('form.height_mm', undefined, 'a height');
  };
  expect(() => parseFile('vase.json', '{}', parse)).toThrow('vase.json: form.height_mm: got nothing');
});
