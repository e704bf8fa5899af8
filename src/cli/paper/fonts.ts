import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);

/** The letters come from a package, so that every machine prints alike. */
export const fontFile = (bold: boolean): Promise<Uint8Array> =>
  readFile(require.resolve(`dejavu-fonts-ttf/ttf/DejaVuSans${bold ? '-Bold' : ''}.ttf`));
