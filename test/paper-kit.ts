import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import jsqr from 'jsqr';
import { fontFile } from '../src/cli/paper/fonts.ts';
import { type Box, boxOf, type Page, pageSvg, sizeOfPaper } from '../src/making/paper/page.ts';
import { NOTHING_YET } from '../src/making/record/piece-state.ts';
import { type PaperPiece, pieceAddress } from '../src/making/record-paper/paper-piece.ts';

/** Pages drawn, and what an independent reader of codes makes of them. */

const require = createRequire(import.meta.url);
// jsqr is CommonJS with a default inside its default under some loaders.
const decode = ((jsqr as unknown as { default?: typeof jsqr }).default ?? jsqr) as typeof jsqr;
export const STUDIO = 'Reed Lane Studio';

let fonts: Uint8Array[];
/** Once before the first drawing. */
export const readyToDraw = async (): Promise<void> => {
  await initWasm(readFileSync(require.resolve('@resvg/resvg-wasm/index_bg.wasm')));
  fonts = [await fontFile(false), await fontFile(true)];
};

export const piece = (number: string, more: Partial<PaperPiece> = {}): PaperPiece => ({
  number,
  form: 'Water plate, firm',
  clay: 'Studio porcelain',
  begun: '2026-07-24',
  state: NOTHING_YET,
  address: pieceAddress(STUDIO, number),
  ...more,
});
export const many = (count: number): PaperPiece[] =>
  Array.from({ length: count }, (_, i) => piece(`R-${String(i + 1).padStart(3, '0')}`));

export interface Ink {
  readonly width: number;
  readonly height: number;
  readonly perMm: number;
  readonly light: (x: number, y: number) => number;
}

export const drawn = (page: Page, dotsPerInch: number): Ink => {
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

/** What an independent decoder reads in a part of a page, with nothing but black around it. */
export const readIn = ({ width, height, perMm, light }: Ink, box: Box): string | undefined => {
  const border = 12;
  const [x0, y0] = [Math.max(0, Math.round(box.left * perMm)), Math.max(0, Math.round(box.top * perMm))];
  const w = Math.min(width, Math.round(box.right * perMm)) - x0;
  const h = Math.min(height, Math.round(box.bottom * perMm)) - y0;
  const [all, high] = [w + 2 * border, h + 2 * border];
  const rgba = new Uint8ClampedArray(4 * all * high);
  for (let i = 3; i < rgba.length; i += 4) rgba[i] = 255;
  for (let y = 0; y < h; y++)
    for (let x = 0; x < w; x++) {
      const at = 4 * ((y + border) * all + x + border);
      rgba[at] = rgba[at + 1] = rgba[at + 2] = light(x0 + x, y0 + y);
    }
  return decode(rgba, all, high)?.data;
};

export const codesOf = ({ elements }: Page): Box[] =>
  elements.flatMap((e) => (e.kind === 'fill' && e.grey === undefined ? [boxOf(e)] : []));

/** Light on every side, in squares: ISO/IEC 18004. */
const QUIET = 4;

/** A code and as much light as the standard asks around it; the finder's seven squares give the size of one. */
export const lightOf = (page: Page, dark: Box): Box => {
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

export const within = (inner: Box, outer: Box): boolean =>
  inner.left >= outer.left - 1e-6 &&
  inner.top >= outer.top - 1e-6 &&
  inner.right <= outer.right + 1e-6 &&
  inner.bottom <= outer.bottom + 1e-6;
