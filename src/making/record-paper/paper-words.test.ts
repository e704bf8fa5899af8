import { describe, expect, test } from 'vitest';
import { fitted, printable } from '../paper/fitted.ts';
import { textWidth_mm } from '../paper/letters.ts';
import { LABEL_SHEETS, parseLabelSheet } from './label-sheet.ts';
import { amountText, pieceAddress, studioKey } from './paper-piece.ts';
import { pickPieces } from './pick-pieces.ts';

describe('which pieces', () => {
  const record = new Set(['7', '007', '101', '102', '104', 'R-099', 'R-100', 'R-101', 'a-1-3', 'x1-5']);
  const pick = (text: string) => pickPieces(text, (n) => record.has(n));

  test('ranges, single numbers, each once, in the order asked for; gaps are told', () => {
    expect(pick('104, 101-104')).toEqual({ numbers: ['104', '101', '102'], missing: ['103'] });
    expect(pick('R-099-R-101').numbers).toEqual(['R-099', 'R-100', 'R-101']);
    expect(pick('R-099-101').numbers).toEqual(['R-099', 'R-100', 'R-101']);
    expect(pick('005-009')).toEqual({ numbers: ['007'], missing: ['005', '006', '008', '009'] });
  });

  test('a number that looks like a range is that number', () => {
    expect(pick('a-1-3,x1-5').numbers).toEqual(['a-1-3', 'x1-5']);
  });

  test.each(['', ' , ', '99', '120-101', 'R-1-9999999', '1-', 'R-101-S-104', '200-210'])(
    '"%s" is refused',
    (text) => {
      expect(() => pick(text)).toThrow(/--pieces: got/);
    },
  );
});

describe('what a code says', () => {
  test('the studio, short and in letters that make small codes, and the number as it is', () => {
    expect(studioKey('Reed Lane Studio')).toBe('REED-LANE');
    expect(studioKey('Krähenfuß & Söhne Porzellanmanufaktur')).toBe('KRAHENFUSS');
    expect(studioKey('Porzellanmanufaktur')).toBe('PORZELLANMAN');
    expect(studioKey('磁器')).toBe('STUDIO');
    expect(pieceAddress('Reed Lane Studio', 'R-101')).toBe('REED-LANE/R-101');
  });

  test('or the page of the piece, by RFC 3986', () => {
    const address = pieceAddress('x', 'ä 1/2#3', 'https://192.168.1.20:8443/');
    expect(new URL(address).hash).toBe('#piece/%C3%A4%201%2F2%233');
    expect(address).toBe('https://192.168.1.20:8443/#piece/%C3%A4%201%2F2%233');
  });
});

test('amounts have the decimals of ISO 4217: two for EUR, none for JPY, three for KWD', () => {
  expect(amountText(42_000, 'EUR')).toBe('EUR 420.00');
  expect(amountText(42_000, 'JPY')).toBe('JPY 42,000');
  expect(amountText(42_000, 'KWD')).toBe('KWD 42.000');
});

describe('text made to fit', () => {
  const box = { width_mm: 20, height_mm: 8, most_mm: 6, least_mm: 2 };
  const narrow = (text: string, more = {}) => {
    const found = fitted(text, { ...box, ...more });
    for (const line of found?.lines ?? [])
      expect(textWidth_mm(line, found!.size_mm)).toBeLessThanOrEqual(box.width_mm);
    if (found) expect(found.height_mm).toBeLessThanOrEqual(box.height_mm + 1e-9);
    return found;
  };

  test('large where it can be, smaller, then on lines, then cut', () => {
    expect(narrow('cup')).toMatchObject({ size_mm: 6, lines: ['cup'] });
    expect(narrow('a tall cup')!.size_mm).toBeLessThan(6);
    expect(narrow('a tall faceted cup with a flared lip')!.lines.length).toBeGreaterThan(1);
    expect(narrow('word '.repeat(80))!.lines.at(-1)).toMatch(/…$/);
    expect(narrow('W'.repeat(80))!.lines.at(-1)).toMatch(/…$/);
  });

  test('a whole text is broken between letters rather than cut, and refused where even that is too long', () => {
    const found = narrow('A'.repeat(25), { whole: true });
    expect(found!.lines.join('')).toBe('A'.repeat(25));
    expect(narrow('A'.repeat(200), { whole: true })).toBeUndefined();
    expect(fitted('A', { ...box, height_mm: 2 })).toBeUndefined();
  });

  test('blanks are one blank, and what draws nothing is gone', () => {
    expect(printable(' a\n\tb\u00a0\u0007\u200bc ')).toBe('a b c');
  });
});

describe('sheets of labels', () => {
  test.each(Object.entries(LABEL_SHEETS))(
    '%s lies on its sheet, as far from the right as from the left',
    (_, sheet) => {
      expect(parseLabelSheet(sheet)).toEqual(sheet);
      const { width_mm, height_mm, left_mm, top_mm, columns, rows } = sheet;
      const wide = columns * (sheet.labelWidth_mm + sheet.gapAcross_mm) - sheet.gapAcross_mm;
      const high = rows * (sheet.labelHeight_mm + sheet.gapDown_mm) - sheet.gapDown_mm;
      expect(Math.abs(width_mm - wide - 2 * left_mm)).toBeLessThan(0.2);
      expect(Math.abs(height_mm - high - 2 * top_mm)).toBeLessThan(0.2);
    },
  );

  test('what does not fit on its sheet is refused by name', () => {
    const sheet = LABEL_SHEETS['a4-64x38'];
    expect(() => parseLabelSheet({ ...sheet, columns: 4 })).toThrow(/labels.columns: got .* at most 210 mm/);
    expect(() => parseLabelSheet({ ...sheet, rows: 8 })).toThrow(/labels.rows/);
    expect(() => parseLabelSheet({ ...sheet, labelWidth_mm: 'wide' })).toThrow(/labels.labelWidth_mm/);
  });
});
