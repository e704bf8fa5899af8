import { beforeAll, describe, expect, test } from 'vitest';
import {
  codesOf,
  drawn,
  lightOf,
  many,
  piece,
  readIn,
  readyToDraw,
  STUDIO,
  within,
} from '../../../test/paper-kit.ts';
import { type Box, boxOf, MARGIN_mm, PAPERS, type Page } from '../../making/paper/page.ts';
import { apart } from '../../making/paper/shapes.ts';
import { NOTHING_YET } from '../../making/record/piece-state.ts';
import { ARM_mm, cardPages } from '../../making/record-paper/cards.ts';
import { inkOf, LABEL_SHEETS, labelAt } from '../../making/record-paper/label-sheet.ts';
import { labelPages } from '../../making/record-paper/labels.ts';
import { pieceAddress } from '../../making/record-paper/paper-piece.ts';
import { piecePages, type SheetPiece } from '../../making/record-paper/piece-sheet.ts';
import { tagPages } from '../../making/record-paper/tags.ts';
import { qrCoder } from './qr-code.ts';

beforeAll(readyToDraw);

/** Names that an artist, or a spreadsheet, might bring. */
const HARD = [
  piece('R-101', { title: 'W'.repeat(120), form: 'W'.repeat(80), clay: 'm'.repeat(80) }),
  piece('WWWWWWW', {
    title: 'a very long title of a piece that goes on and on '.repeat(4),
    form: 'a form '.repeat(40),
  }),
  piece('1', { title: '', form: undefined, clay: undefined, begun: undefined }),
  piece('<&>"\'', { title: '\n\t\u0007', form: '<b>&amp;</b>', clay: 'Zażółć gęślą jaźń · ÆØÅ' }),
  piece('É-7', { title: '花瓶 🏺', form: 'grès très fin' }),
];

/** Nothing on a page touches anything else, save the lines one writes or cuts on. */
const expectApart = (page: Page, inks: Box): void => {
  const boxes = page.elements.flatMap((e) => {
    expect(within(boxOf(e), inks), JSON.stringify(e).slice(0, 200)).toBe(true);
    if (e.kind === 'line') return [];
    return [{ e, box: e.kind === 'fill' ? lightOf(page, boxOf(e)) : boxOf(e) }];
  });
  for (const [i, a] of boxes.entries())
    for (const b of boxes.slice(i + 1)) {
      // Lines of one text stand as close as the font has it.
      const near = {
        left: a.box.left + 1e-6,
        right: a.box.right - 1e-6,
        top: a.box.top + 0.02,
        bottom: a.box.bottom - 0.02,
      };
      if (!apart(near, b.box))
        throw new Error(
          `${JSON.stringify(a.e).slice(0, 120)} runs into ${JSON.stringify(b.e).slice(0, 120)}`,
        );
    }
};

const sheetPiece = (more: Partial<SheetPiece> = {}): SheetPiece => ({
  ...piece('R-101', { title: 'Moon' }),
  firings: ['Firing 3'],
  notes: [],
  ...more,
});

describe.each(Object.entries(LABEL_SHEETS))('labels %s', (_, sheet) => {
  const onSheet = sheet.columns * sheet.rows;

  test('every code, drawn at 300 dots an inch and cut out with its label, is read back and says the right thing', () => {
    const pieces = many(onSheet);
    const [page] = labelPages(pieces, sheet, qrCoder);
    const ink = drawn(page, 300);
    for (const [i, dark] of codesOf(page).entries())
      expect(within(lightOf(page, dark), labelAt(sheet, i))).toBe(true);
    for (const [i, { address }] of pieces.entries())
      expect(readIn(ink, labelAt(sheet, i)), address).toBe(address);
  });

  test('hard names shrink, break or are cut, and run into nothing; the number is whole', () => {
    const { width_mm, height_mm } = sheet;
    const usual = HARD.map((one) => ({ ...one, address: 'REED-LANE/R-1' }));
    const [page] = labelPages(usual, sheet, qrCoder);
    expectApart(page, inkOf({ width_mm, height_mm }));
    usual.forEach(({ number }, i) => {
      const on = page.elements.filter((e) => within(boxOf(e), labelAt(sheet, i)));
      const bold = on.flatMap((e) => (e.kind === 'text' && e.bold ? [e.text] : []));
      expect(bold.join('')).toBe(number);
    });
    expect(page.elements.every((e) => usual.some((_, i) => within(boxOf(e), labelAt(sheet, i))))).toBe(true);
  });

  test('the first free label is where it is asked for, and the rest goes over', () => {
    const pages = labelPages(many(onSheet), sheet, qrCoder, 3);
    expect(pages).toHaveLength(2);
    const [code] = codesOf(pages[0]);
    expect(within(code, labelAt(sheet, 2))).toBe(true);
    expect(codesOf(pages[1])).toHaveLength(2);
    expect(() => labelPages(many(1), sheet, qrCoder, onSheet + 1)).toThrow(/first: got/);
  });
});

test('a code spoilt in a corner is not read: the reading above can fail', () => {
  const sheet = LABEL_SHEETS['a4-64x38'];
  const [page] = labelPages(many(1), sheet, (text) => {
    const { side, dark } = qrCoder(text);
    return { side, dark: (r, c) => dark(r, c) !== (r < 8 && c < 8 && (r + c) % 2 === 0) };
  });
  expect(readIn(drawn(page, 300), labelAt(sheet, 0))).toBeUndefined();
});

test('numbers in other letters, long ones, and the page of a piece are read back too', () => {
  const sheet = LABEL_SHEETS['a4-99x68'];
  const pieces = [
    piece('Krug ä 7'),
    piece('x'.repeat(40)),
    piece('R-1', { address: pieceAddress(STUDIO, 'R-1/ä', 'https://192.168.1.20:8443') }),
  ];
  const [page] = labelPages(pieces, sheet, qrCoder);
  const ink = drawn(page, 300);
  expect(pieces.map((_, i) => readIn(ink, labelAt(sheet, i)))).toEqual(pieces.map(({ address }) => address));
});

test('a label too small for its code, or for its number, is refused in words', () => {
  const small = LABEL_SHEETS['letter-44x13'];
  const url = piece('R-1', { address: pieceAddress(STUDIO, 'R-1', 'https://192.168.1.20:8443') });
  expect(() => labelPages([url], small, qrCoder)).toThrow(
    /code: got .* take a larger label or a shorter text/,
  );
  const long = piece('x'.repeat(200), { address: 'A' });
  expect(() => labelPages([long], small, qrCoder)).toThrow(/pieces: got .* take a larger label/);
});

describe.each(Object.keys(PAPERS) as (keyof typeof PAPERS)[])('on %s', (paper) => {
  const { width_mm, height_mm } = PAPERS[paper];
  const free = {
    left: MARGIN_mm,
    top: MARGIN_mm,
    right: width_mm - MARGIN_mm,
    bottom: height_mm - MARGIN_mm,
  };
  const priced = HARD.map((one) => ({
    ...one,
    state: {
      ...NOTHING_YET,
      price: { minor: 123_456_789, currency: 'JPY' },
      sizes: { fired: { height_mm: 93.5 } },
    },
  }));
  const options = { studio: 'W'.repeat(80), price: true };
  const smallest = { width_mm: 25, height_mm: 50 };
  const papers: Readonly<Record<string, () => Page[]>> = {
    tags: () => tagPages(priced, paper, qrCoder, options),
    'small tags': () =>
      tagPages(
        priced.map((p) => ({ ...p, address: 'R/1' })),
        paper,
        qrCoder,
        { ...options, size: smallest },
      ),
    cards: () => cardPages(priced, paper, qrCoder),
  };

  test.each(Object.keys(papers))('%s keep the margins and run into nothing, whatever the names', (kind) => {
    for (const page of papers[kind]()) expectApart(page, free);
  });

  test('codes of tags, cards and sheets are read back', () => {
    const pieces = many(4);
    const sheets = pieces.map(
      (one) => piecePages({ ...one, firings: [], notes: [] }, paper, qrCoder, STUDIO)[0],
    );
    for (const pages of [
      tagPages(pieces, paper, qrCoder, options),
      cardPages(pieces, paper, qrCoder),
      sheets,
    ]) {
      const read = pages.flatMap((page) => {
        const ink = drawn(page, 300);
        return codesOf(page).map((dark) => readIn(ink, lightOf(page, dark)));
      });
      expect(read).toEqual(pieces.map(({ address }) => address));
    }
  });

  test('the number of a card is read at arm’s length: ISO 9241-303, 22 minutes of arc at 0.7 m', () => {
    expect(0.729 * ARM_mm).toBeCloseTo(4.48, 2);
    const [page] = cardPages([piece('R-101'), piece('x'.repeat(40))], paper, qrCoder);
    for (const e of page.elements)
      if (e.kind === 'text' && e.bold) expect(e.size_mm).toBeGreaterThanOrEqual(ARM_mm - 1e-9);
    expect(Math.max(...page.elements.map((e) => (e.kind === 'text' ? e.size_mm : 0)))).toBeGreaterThan(15);
  });

  test('the sheet of a piece keeps its margins and says its measures, losses and notes', () => {
    const square = (w: number, h: number) => [
      [
        [-w, 0],
        [w, 0],
        [w, h],
        [-w, h],
      ] as const,
    ];
    const pages = piecePages(
      sheetPiece({
        title: 'W'.repeat(20),
        picture: { before: square(80, 300), after: square(70, 260), said: 'Foreseen.' },
        notes: Array.from({ length: 60 }, (_, i) => ({
          day: '2026-01-01',
          what: 'was carved',
          words: `note ${i} `.repeat(20),
        })),
        state: {
          ...NOTHING_YET,
          stage: 'unloaded',
          stands: 'lost',
          weights_g: { 'bone dry': 431.5, fired: 404 },
          sizes: { fired: { height_mm: 192, sag_mm: 4.9 } },
          loss: { cause: 'cracked', at: 'fired', at_utc: '2026-01-02T00:00:00.000Z' },
          doubts: ['one of the two may be a slip'],
        },
      }),
      paper,
      qrCoder,
      STUDIO,
    );
    expect(pages.length).toBeGreaterThan(1);
    for (const page of pages)
      for (const e of page.elements)
        expect(within(boxOf(e), free), JSON.stringify(e).slice(0, 200)).toBe(true);
    const said = pages
      .flatMap(({ elements }) => elements.flatMap((e) => (e.kind === 'text' ? [e.text] : [])))
      .join(' ');
    for (const words of [
      '431.5',
      '192',
      '4.9',
      'Lost: cracked (fired)',
      'Drawn 1 : 3',
      'note 59',
      'may be a slip',
      'The code says REED-LANE/R-101',
    ])
      expect(said).toContain(words);
  });
});
