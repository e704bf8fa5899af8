import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import jsqr from 'jsqr';
import { beforeAll, describe, expect, test } from 'vitest';
import {
  type Box,
  boxOf,
  MARGIN_mm,
  PAPERS,
  type Page,
  pageSvg,
  sizeOfPaper,
} from '../../making/paper/page.ts';
import { apart } from '../../making/paper/shapes.ts';
import { NOTHING_YET } from '../../making/record/piece-state.ts';
import { CROSS_mm, calibratePage } from '../../making/record-paper/calibrate.ts';
import { ARM_mm, cardPages } from '../../making/record-paper/cards.ts';
import { QUIET } from '../../making/record-paper/code.ts';
import { inkOf, LABEL_SHEETS, labelAt } from '../../making/record-paper/label-sheet.ts';
import { labelPages } from '../../making/record-paper/labels.ts';
import { type PaperPiece, pieceAddress } from '../../making/record-paper/paper-piece.ts';
import { piecePages, type SheetPiece } from '../../making/record-paper/piece-sheet.ts';
import { tagPages } from '../../making/record-paper/tags.ts';
import { fontFile } from './fonts.ts';
import { pdfOf } from './pdf.ts';
import { qrCoder } from './qr-code.ts';

const require = createRequire(import.meta.url);
// jsqr is CommonJS with a default inside its default under some loaders.
const decode = ((jsqr as unknown as { default?: typeof jsqr }).default ?? jsqr) as typeof jsqr;
const STUDIO = 'Reed Lane Studio';

let fonts: Uint8Array[];
beforeAll(async () => {
  await initWasm(readFileSync(require.resolve('@resvg/resvg-wasm/index_bg.wasm')));
  fonts = [await fontFile(false), await fontFile(true)];
});

const piece = (number: string, more: Partial<PaperPiece> = {}): PaperPiece => ({
  number,
  form: 'Water plate, firm',
  clay: 'Studio porcelain',
  begun: '2026-07-24',
  state: NOTHING_YET,
  address: pieceAddress(STUDIO, number),
  ...more,
});
const many = (count: number): PaperPiece[] =>
  Array.from({ length: count }, (_, i) => piece(`R-${String(i + 1).padStart(3, '0')}`));

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

interface Ink {
  readonly width: number;
  readonly height: number;
  readonly perMm: number;
  readonly light: (x: number, y: number) => number;
}

const drawn = (page: Page, dotsPerInch: number): Ink => {
  const width_mm = sizeOfPaper(page.paper).width_mm;
  const resvg = new Resvg(pageSvg(page), {
    fitTo: { mode: 'width', value: Math.round((width_mm * dotsPerInch) / 25.4) },
    font: { fontBuffers: fonts, defaultFontFamily: 'DejaVu Sans', sansSerifFamily: 'DejaVu Sans' },
  });
  const image = resvg.render();
  const pixels = image.pixels.slice();
  const { width, height } = image;
  image.free();
  resvg.free();
  return { width, height, perMm: width / width_mm, light: (x, y) => pixels[4 * (y * width + x)] };
};

/** A picture of poppler, an independent reader of PDF. */
const printed = (pdf: Uint8Array, dotsPerInch: number): Ink => {
  const pgm = execFileSync('pdftoppm', ['-r', String(dotsPerInch), '-gray', '-f', '1', '-l', '1', '-'], {
    input: pdf,
    maxBuffer: 1e9,
  });
  const [head, width, height] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.toString('latin1', 0, 40)) ?? [];
  const at = head.length;
  return {
    width: Number(width),
    height: Number(height),
    perMm: dotsPerInch / 25.4,
    light: (x, y) => pgm[at + y * Number(width) + x],
  };
};

const hasPoppler = ['pdfinfo', 'pdftoppm', 'pdftotext'].every((tool) => {
  try {
    execFileSync(tool, ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    process.stderr.write(`SKIPPED: ${tool} (poppler) is not here; sizes in the PDF are not measured back.\n`);
    return false;
  }
});

/** What an independent decoder reads in a part of a page, with nothing but black around it. */
const readIn = ({ width, height, perMm, light }: Ink, box: Box): string | undefined => {
  const border = 12;
  const [x0, y0] = [Math.max(0, Math.round(box.left * perMm)), Math.max(0, Math.round(box.top * perMm))];
  const w = Math.min(width, Math.round(box.right * perMm)) - x0;
  const h = Math.min(height, Math.round(box.bottom * perMm)) - y0;
  const [all, high] = [w + 2 * border, h + 2 * border];
  const rgba = new Uint8ClampedArray(4 * all * high);
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++)
      rgba.fill(
        light(x0 + x, y0 + y),
        4 * ((y + border) * all + x + border),
        4 * ((y + border) * all + x + border) + 3,
      );
  for (let i = 3; i < rgba.length; i += 4) rgba[i] = 255;
  return decode(rgba, all, high)?.data;
};

const codesOf = ({ elements }: Page): Box[] =>
  elements.flatMap((e) => (e.kind === 'fill' && e.grey === undefined ? [boxOf(e)] : []));

/** A code and as much light as the standard asks around it; the finder's seven squares give the size of one. */
const lightOf = (page: Page, dark: Box): Box => {
  const code = page.elements.find(
    (e) => e.kind === 'fill' && boxOf(e).left === dark.left && boxOf(e).top === dark.top,
  );
  const [[left], [right]] = code?.kind === 'fill' ? code.rings_mm[0] : [];
  const quiet = (QUIET * (right - left)) / 7;
  return {
    left: dark.left - quiet,
    top: dark.top - quiet,
    right: dark.right + quiet,
    bottom: dark.bottom + quiet,
  };
};

const within = (inner: Box, outer: Box): boolean =>
  inner.left >= outer.left - 1e-6 &&
  inner.top >= outer.top - 1e-6 &&
  inner.right <= outer.right + 1e-6 &&
  inner.bottom <= outer.bottom + 1e-6;

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
    // A sheet of fewer than 300 dots an inch across a square would not be read; none is skipped.
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

/** The first dark dot from the left on one line of the picture, in mm, to a part of a dot. */
const edge = (ink: Ink, along: 'x' | 'y', at_mm: number, from_mm: number, to_mm: number): number => {
  const light = (i: number): number => {
    const across = Math.round(at_mm * ink.perMm);
    return along === 'x' ? ink.light(i, across) : ink.light(across, i);
  };
  const step = Math.sign(to_mm - from_mm);
  for (let i = Math.round(from_mm * ink.perMm); i !== Math.round(to_mm * ink.perMm); i += step)
    if (light(i) < 128) return (step > 0 ? i : i + 1) / ink.perMm;
  return Number.NaN;
};

describe.skipIf(!hasPoppler)('the PDF measured back by poppler', () => {
  const sizes = [
    ...Object.entries(PAPERS).map(([name, size]) => [name, size] as const),
    ['a roll of labels', { width_mm: 57, height_mm: 32 }] as const,
  ];

  test.each(sizes)('%s: the size of the page, to 0.1 mm (pdfinfo)', async (_, size) => {
    const pdf = await pdfOf([calibratePage(size)], 'Ruler');
    const [, width, height] =
      /Page size:\s+([\d.]+) x ([\d.]+) pts/.exec(
        execFileSync('pdfinfo', ['-'], { input: pdf }).toString(),
      ) ?? [];
    expect(Math.abs((Number(width) * 25.4) / 72 - size.width_mm)).toBeLessThan(0.1);
    expect(Math.abs((Number(height) * 25.4) / 72 - size.height_mm)).toBeLessThan(0.1);
  });

  test.each(['a4', 'letter'] as const)(
    '%s: crosses and ruler of the page to check printers with, to 0.1 mm',
    async (paper) => {
      const { width_mm, height_mm } = PAPERS[paper];
      const ink = printed(await pdfOf([calibratePage(PAPERS[paper])], 'Ruler'), 600);
      // Past the arm of the cross that lies along the line of sight.
      const off = CROSS_mm + 3;
      const line = 0.1;
      expect(Math.abs(edge(ink, 'x', off, 10, 30) - (CROSS_mm - line))).toBeLessThan(0.1);
      expect(Math.abs(edge(ink, 'y', off, 10, 30) - (CROSS_mm - line))).toBeLessThan(0.1);
      expect(
        Math.abs(
          edge(ink, 'x', height_mm - off, width_mm - 10, width_mm - 30) - (width_mm - CROSS_mm + line),
        ),
      ).toBeLessThan(0.1);
      expect(
        Math.abs(
          edge(ink, 'y', width_mm - off, height_mm - 10, height_mm - 30) - (height_mm - CROSS_mm + line),
        ),
      ).toBeLessThan(0.1);
      const first = edge(ink, 'x', CROSS_mm + 8 + 1, 26, 40);
      const last = edge(ink, 'x', CROSS_mm + 8 + 3.8, 135, 120);
      expect(Math.abs(last - first - 100.1)).toBeLessThan(0.1);
    },
  );

  test('labels: edges of the code to 0.1 mm, words inside their label by poppler’s own boxes, the code read from its picture', async () => {
    const sheet = LABEL_SHEETS['letter-44x13'];
    const pieces = [
      ...many(6),
      piece('R-007', { form: 'a form with a name much too long for so small a label '.repeat(3) }),
    ];
    const [page] = labelPages(pieces, sheet, qrCoder);
    const pdf = await pdfOf([page], 'Labels');
    const ink = printed(pdf, 600);
    for (const [i, dark] of codesOf(page).entries()) {
      // The finders' outer squares are solid along the upper and the left edge.
      const square = (dark.right - dark.left) / 21;
      const [x, y] = [dark.left + square / 2, dark.top + square / 2];
      expect(Math.abs(edge(ink, 'x', y, dark.left - 1, dark.right) - dark.left)).toBeLessThan(0.1);
      expect(Math.abs(edge(ink, 'x', y, dark.right + 1, dark.left) - dark.right)).toBeLessThan(0.1);
      expect(Math.abs(edge(ink, 'y', x, dark.top - 1, dark.bottom) - dark.top)).toBeLessThan(0.1);
      expect(Math.abs(edge(ink, 'y', x, dark.bottom + 1, dark.top) - dark.bottom)).toBeLessThan(0.1);
      expect(readIn(ink, labelAt(sheet, i))).toBe(pieces[i].address);
    }
    const xml = execFileSync('pdftotext', ['-bbox', '-', '-'], { input: pdf }).toString();
    const words = [
      ...xml.matchAll(/<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</g),
    ];
    expect(words.length).toBeGreaterThan(20);
    for (const [, ...found] of words) {
      const [left, top, right, bottom] = found.slice(0, 4).map((pt) => (Number(pt) * 25.4) / 72);
      const on = pieces.findIndex((_, i) => within({ left, top, right, bottom }, labelAt(sheet, i)));
      expect(on, found[4]).toBeGreaterThanOrEqual(0);
      expect(apart({ left, top, right, bottom }, codesOf(page)[on]), found[4]).toBe(true);
    }
  });

  test('tags: the frame one cuts along, to 0.1 mm', async () => {
    const [page] = tagPages(many(1), 'letter', qrCoder, { studio: STUDIO });
    const ink = printed(await pdfOf([page], 'Tags'), 600);
    const left = edge(ink, 'x', MARGIN_mm + 40, 2, 30);
    const right = edge(ink, 'x', MARGIN_mm + 40, 80, 35);
    const top = edge(ink, 'y', left + 20, 2, 30);
    const bottom = edge(ink, 'y', left + 40, 120, 60);
    expect(Math.abs(right - left - 45.1)).toBeLessThan(0.1);
    expect(Math.abs(bottom - top - 80.1)).toBeLessThan(0.1);
    expect(Math.abs(top - MARGIN_mm)).toBeLessThan(0.1);
  });
});
