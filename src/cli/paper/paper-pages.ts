import type { Page } from '../../making/paper/page.ts';
import { cardPages } from '../../making/record-paper/cards.ts';
import type { Size } from '../../making/record-paper/cut-out.ts';
import { labelPages } from '../../making/record-paper/labels.ts';
import { piecePages } from '../../making/record-paper/piece-sheet.ts';
import { tagPages } from '../../making/record-paper/tags.ts';
import type { PaperAsked, Printer } from '../../server/record/printer.ts';
import { paperPiece, sheetPiece } from '../../store/paper-pieces.ts';
import type { StudioRecord } from '../../store/record.ts';
import { readSettings } from '../../store/settings.ts';
import type { Io } from '../io.ts';
import { foreseer } from './foreseen-picture.ts';
import { pdfOf } from './pdf.ts';
import { photosOf } from './photos-of.ts';
import { qrCoder } from './qr-code.ts';

export interface PaperWanted extends PaperAsked {
  /** Tags. */
  readonly size?: Size | undefined;
  /** Where the page of the studio is found, for the codes to lead to. */
  readonly page?: string | undefined;
  /** Sheets: with photographs, and with the form fired for its picture. */
  readonly picture: boolean;
}

type Addressed = Parameters<typeof sheetPiece>[2];

const sheetsOf = async (
  record: StudioRecord,
  { numbers, paper, picture }: PaperWanted,
  addressed: Addressed,
  io: Io,
): Promise<Page[]> => {
  const foresee = picture ? foreseer(record.db, io) : undefined;
  const pages: Page[] = [];
  for (const number of numbers) {
    const piece = sheetPiece(record.db, number, addressed);
    const foreseen = await foresee?.(number, piece.state);
    const photos = picture ? photosOf(record, piece, io) : {};
    pages.push(...piecePages({ ...piece, picture: foreseen, photos }, paper, qrCoder, addressed.studio));
  }
  return pages;
};

/** Pages of one kind of paper. What cannot be put on them is said to `io.err`, a line each. */
export const paperPages = async (
  record: StudioRecord,
  wanted: PaperWanted,
  io: Io,
): Promise<readonly Page[]> => {
  const { name: studio } = readSettings(record.db);
  const addressed = { studio, page: wanted.page };
  const { kind, numbers, paper, labels, first, price, size } = wanted;
  if (kind === 'sheet') return sheetsOf(record, wanted, addressed, io);
  const pieces = numbers.map((number) => paperPiece(record.db, number, addressed));
  if (kind === 'labels') return labelPages(pieces, labels, qrCoder, first);
  if (kind === 'cards') return cardPages(pieces, paper, qrCoder);
  return tagPages(pieces, paper, qrCoder, { studio, price, ...(size && { size }) });
};

/** Prints for the page of a server; `stop` ends a picture that is being foreseen. */
export const printerFor =
  (stop: AbortSignal): Printer =>
  async (record, asked) => {
    const said: string[] = [];
    const io: Io = { out: () => {}, err: (text) => said.push(text.trim()), watched: false, signal: stop };
    const pages = await paperPages(record, { ...asked, picture: true }, io);
    const pdf = await pdfOf(pages, `${asked.kind}: ${asked.numbers.join(', ').slice(0, 200)}`);
    // How far the work has come is told there too, and is no news once it is done.
    return { pdf, said: said.filter((line) => !line.startsWith('foreseeing ')) };
  };
