import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import PDFDocument from 'pdfkit';
import { beforeAll, describe, expect, test } from 'vitest';
import { BOLD, brokenInto, LETTERS, PLAIN, textWidth_mm } from '../../making/paper/letters.ts';
import { boxOf, MARGIN_mm, PAPERS, type Paper, pageSvg } from '../../making/paper/page.ts';
import { protocolOf, protocolPages, protocolSvg } from '../../making/protocols/protocol.ts';
import { PROTOCOLS } from '../../making/protocols/sheet-parts.ts';
import { fontFile } from './fonts.ts';
import { pdfOf } from './pdf.ts';

const require = createRequire(import.meta.url);
const PAPER_NAMES = Object.keys(PAPERS) as Paper[];
/** Everything that fills the pages: long names, many rows. */
const FULL = { clay: 'W'.repeat(60), kiln: 'the W'.repeat(12), pieces: 30, span_mm: 136 };
const EVERY = PROTOCOLS.flatMap((kind) =>
  PAPER_NAMES.flatMap((paper) =>
    [{}, FULL].map((options, i) => ({ kind, paper, options, how: i ? 'full' : 'usual' })),
  ),
);

let fonts: Uint8Array[];
beforeAll(async () => {
  await initWasm(readFileSync(require.resolve('@resvg/resvg-wasm/index_bg.wasm')));
  fonts = [await fontFile(false), await fontFile(true)];
});

const ink = (
  svg: string,
  dotsPerMm: number,
): { width: number; height: number; dark: (x: number, y: number) => boolean } => {
  const width_mm = Number(/viewBox="0 0 ([\d.]+)/.exec(svg)?.[1]);
  const resvg = new Resvg(svg, {
    fitTo: { mode: 'width', value: Math.round(width_mm * dotsPerMm) },
    font: { fontBuffers: fonts, defaultFontFamily: 'DejaVu Sans', sansSerifFamily: 'DejaVu Sans' },
  });
  const image = resvg.render();
  const pixels = image.pixels.slice();
  const { width, height } = image;
  image.free();
  resvg.free();
  return { width, height, dark: (x, y) => pixels[4 * (y * width + x)] < 200 };
};

test('letter widths are those of the font itself, read by a font library', () => {
  const doc = new PDFDocument({ autoFirstPage: false });
  for (const [i, widths] of [PLAIN, BOLD].entries()) {
    doc.font(Buffer.from(fonts[i])).fontSize(2048);
    expect([...LETTERS].map((l) => Math.round(doc.widthOfString(l)))).toEqual([...widths]);
    // Set with kerning as a printer sets it, a line is never wider than we count.
    const line = 'AVATAR To Wave, 1285 °C: 5ρ·½ – “Ty”';
    expect(doc.fontSize(3).widthOfString(line)).toBeLessThanOrEqual(textWidth_mm(line, 3, i === 1) + 1e-9);
  }
});

test('lines are broken between words and never wider than asked', () => {
  const text = 'a bar laid over two edges sinks in the middle while it is soft '.repeat(6).trim();
  const lines = brokenInto(text, 60, 3);
  expect(lines.join(' ')).toBe(text);
  for (const line of lines) expect(textWidth_mm(line, 3)).toBeLessThanOrEqual(60);
});

describe.each(EVERY)('$kind on $paper, $how', ({ kind, paper, options }) => {
  const pages = protocolPages(protocolOf(kind, options), paper);
  const { width_mm, height_mm } = PAPERS[paper];

  test('every box lies inside the margins, by measured text', () => {
    for (const page of pages)
      for (const e of page.elements) {
        const box = boxOf(e);
        expect(box.left, JSON.stringify(e)).toBeGreaterThanOrEqual(MARGIN_mm - 1e-9);
        expect(box.top).toBeGreaterThanOrEqual(MARGIN_mm - 1e-9);
        expect(box.right, JSON.stringify(e)).toBeLessThanOrEqual(width_mm - MARGIN_mm + 1e-9);
        expect(box.bottom).toBeLessThanOrEqual(height_mm - MARGIN_mm + 1e-9);
      }
  });

  test('drawn, no ink lies in the margins and some lies on each page', () => {
    for (const page of pages) {
      const dots = 2.5;
      const { width, height, dark } = ink(pageSvg(page), dots);
      const free = Math.floor(MARGIN_mm * dots) - 1;
      let inside = 0;
      for (let y = 0; y < height; y++)
        for (let x = 0; x < width; x++) {
          if (!dark(x, y)) continue;
          const margin = x < free || y < free || x >= width - free || y >= height - free;
          if (margin) throw new Error(`ink at ${x / dots}, ${y / dots} mm`);
          inside++;
        }
      expect(inside).toBeGreaterThan(500);
    }
  });
});

test.each(PAPER_NAMES)('the check ruler on %s is 100 mm long: measured in the drawn picture', (paper) => {
  const dots = 8;
  const [svg] = protocolSvg(protocolOf('absorption'), paper);
  expect(svg).toContain(`width="${PAPERS[paper].width_mm}mm" height="${PAPERS[paper].height_mm}mm"`);
  const { width, height, dark } = ink(svg, dots);
  // The longest unbroken dark run that is not a table's frame: the ruler stands above all tables.
  let found = 0;
  for (let y = 0; y < height && found === 0; y++) {
    let run = 0;
    for (let x = 0; x < width; x++) {
      run = dark(x, y) ? run + 1 : 0;
      if (run > 95 * dots) found = Math.max(found, run);
    }
  }
  expect(Math.abs(found / dots / (width / PAPERS[paper].width_mm / dots) - 100.3)).toBeLessThan(0.5);
});

describe('as PDF', () => {
  const hasPdfinfo = (() => {
    try {
      execFileSync('pdfinfo', ['-v'], { stdio: 'ignore' });
      return true;
    } catch {
      return false;
    }
  })();

  test.each(PAPER_NAMES)(
    '%s pages have the size of their paper, all of them, the same each time',
    async (paper) => {
      const protocol = protocolOf('sag-bar');
      const pages = protocolPages(protocol, paper);
      const pdf = await pdfOf(pages, protocol.title);
      const text = Buffer.from(pdf).toString('latin1');
      expect(text.startsWith('%PDF-')).toBe(true);
      const boxes = [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
      expect(boxes).toHaveLength(pages.length);
      for (const [, w, h] of boxes) {
        expect((Number(w) * 25.4) / 72).toBeCloseTo(PAPERS[paper].width_mm, 2);
        expect((Number(h) * 25.4) / 72).toBeCloseTo(PAPERS[paper].height_mm, 2);
      }
      expect(Buffer.from(await pdfOf(pages, protocol.title)).equals(Buffer.from(pdf))).toBe(true);
    },
  );

  test.skipIf(!hasPdfinfo)('an outside reader finds the same pages', async () => {
    const protocol = protocolOf('witness-cones');
    const pdf = await pdfOf(protocolPages(protocol, 'letter'), protocol.title);
    const said = execFileSync('pdfinfo', ['-'], { input: pdf }).toString();
    expect(said).toMatch(/Pages:\s+2/);
    expect(said).toMatch(/612 x 792 pts \(letter\)/);
    expect(said).toMatch(/Title:\s+Witness cones/);
  });
});

describe('what is refused', () => {
  test('a span too long to draw, a bar too thick, a cone there is not, one hold', () => {
    expect(() => protocolOf('sag-bar', { span_mm: 200 })).toThrow(/span_mm: got 200; expected 60 to 136/);
    expect(() => protocolOf('sag-bar', { thickness_mm: 15 })).toThrow(/thickness_mm/);
    expect(() => protocolOf('witness-cones', { cones: ['9', '77'] })).toThrow(/cones\[1\]: got "?77/);
    expect(() => protocolOf('bars-at-holds', { holds: [{ peak_C: 1250, minutes: 10 }] })).toThrow(/holds/);
  });
});

test('each protocol says what to mind: dust, heat, electricity, gas and lifting', () => {
  for (const kind of PROTOCOLS) {
    const all = protocolSvg(protocolOf(kind), 'a4')
      .join(' ')
      .replace(/<[^>]*>/g, ' ')
      .replace(/\s+/g, ' ');
    for (const word of [
      /silica/,
      /carbon monoxide/,
      /electrician or gas fitter/,
      /hours after the power is off/,
      /lift shelves/,
    ])
      expect(all, kind).toMatch(word);
  }
});
