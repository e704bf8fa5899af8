import { execFileSync } from 'node:child_process';
import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { codesOf, type Ink, many, piece, readIn, STUDIO, within } from '../../../test/paper-kit.ts';
import { MARGIN_mm, PAPERS } from '../../making/paper/page.ts';
import { apart } from '../../making/paper/shapes.ts';
import { CROSS_mm, calibratePage } from '../../making/record-paper/calibrate.ts';
import { LABEL_SHEETS, labelAt } from '../../making/record-paper/label-sheet.ts';
import { labelPages } from '../../making/record-paper/labels.ts';
import { tagPages } from '../../making/record-paper/tags.ts';
import { pdfOf } from './pdf.ts';
import { qrCoder } from './qr-code.ts';

const hasPoppler = ['pdfinfo', 'pdftoppm', 'pdftotext'].every((tool) => {
  try {
    execFileSync(tool, ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    process.stderr.write(`SKIPPED: ${tool} (poppler) is not here; sizes in the PDF are not measured back.\n`);
    return false;
  }
});

/** A picture of poppler, an independent reader of PDF. */
const printed = (pdf: Uint8Array, dotsPerInch: number): Ink => {
  const pgm = execFileSync('pdftoppm', ['-r', String(dotsPerInch), '-gray', '-f', '1', '-l', '1', '-'], {
    input: pdf,
    maxBuffer: 1e9,
  });
  const [head = '', width, height] = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(pgm.toString('latin1', 0, 40)) ?? [];
  const at = head.length;
  return {
    width: Number(width),
    height: Number(height),
    perMm: dotsPerInch / 25.4,
    light: (x, y) => pgm[at + y * Number(width) + x],
  };
};

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

  test('a photograph: whole, in the middle of its place, as large as it fits, to 0.1 mm; turned as its camera was held', async () => {
    const place = { x_mm: 30, y_mm: 40, width_mm: 60, height_mm: 60 };
    const png = new PNG({ width: 400, height: 100 });
    for (let i = 0; i < png.data.length; i++) png.data[i] = i % 4 === 3 ? 255 : 0;
    // EXIF 2.3: tag 0x0112 with 6, "turned a quarter clockwise to be seen upright", in its own APP1 segment.
    const exif = Buffer.from(
      'ffe1002245786966000049492a0008000000010012010300010000000600000000000000',
      'hex',
    );
    const flat = jpeg.encode({ width: 400, height: 100, data: png.data }, 90).data;
    const turned = Buffer.concat([flat.subarray(0, 2), exif, flat.subarray(2)]);
    const cases = [
      [`data:image/png;base64,${PNG.sync.write(png).toString('base64')}`, [30, 90, 62.5, 77.5]],
      [`data:image/jpeg;base64,${flat.toString('base64')}`, [30, 90, 62.5, 77.5]],
      [`data:image/jpeg;base64,${turned.toString('base64')}`, [52.5, 67.5, 40, 100]],
    ] as const;
    for (const [href, [left, right, top, bottom]] of cases) {
      const ink = printed(
        await pdfOf([{ paper: 'a4', elements: [{ kind: 'image', ...place, href }] }], 'Photograph'),
        600,
      );
      expect(Math.abs(edge(ink, 'x', 70, 10, 110) - left)).toBeLessThan(0.1);
      expect(Math.abs(edge(ink, 'x', 70, 110, 10) - right)).toBeLessThan(0.1);
      expect(Math.abs(edge(ink, 'y', 60, 10, 120) - top)).toBeLessThan(0.1);
      expect(Math.abs(edge(ink, 'y', 60, 120, 10) - bottom)).toBeLessThan(0.1);
    }
  });
});
