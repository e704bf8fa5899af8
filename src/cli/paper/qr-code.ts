import QR from 'qrcode';
import { badInput } from '../../error.ts';
import type { Coder } from '../../making/record-paper/paper-piece.ts';

/** ISO/IEC 18004, level M: 15 % of a code may be scratched or smeared. */
export const qrCoder: Coder = (text) => {
  try {
    const { modules } = QR.create(text, { errorCorrectionLevel: 'M' });
    return { side: modules.size, dark: (row, column) => modules.get(row, column) === 1 };
  } catch {
    throw badInput('code', `${text.slice(0, 40)}…`, 'a text short enough for one code');
  }
};
