import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { initWasm, Resvg } from '@resvg/resvg-wasm';

const require = createRequire(import.meta.url);
const FONTS = ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf', 'DejaVuSans-Oblique.ttf'];

let ready: Promise<readonly Uint8Array[]> | undefined;

/** The renderer may be started once a process; the fonts come from a package, so that every machine draws alike. */
const start = (): Promise<readonly Uint8Array[]> => {
  ready ??= (async () => {
    await initWasm(await readFile(require.resolve('@resvg/resvg-wasm/index_bg.wasm')));
    return Promise.all(FONTS.map((font) => readFile(require.resolve(`dejavu-fonts-ttf/ttf/${font}`))));
  })();
  return ready;
};

/** An SVG drawing as a PNG picture; `dotsPerMm` counts for drawings whose user unit is a millimetre. */
export const pngOf = async (svg: string, dotsPerMm: number): Promise<Uint8Array> => {
  const fontBuffers = [...(await start())];
  const width_mm = Number(/viewBox="0 0 ([\d.]+) /.exec(svg)?.[1] ?? 200);
  const resvg = new Resvg(svg, {
    fitTo: { mode: 'width', value: Math.round(width_mm * dotsPerMm) },
    font: { fontBuffers, defaultFontFamily: 'DejaVu Sans', sansSerifFamily: 'DejaVu Sans' },
  });
  try {
    const image = resvg.render();
    const png = image.asPng();
    image.free();
    return png;
  } finally {
    resvg.free();
  }
};
