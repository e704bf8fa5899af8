import { AfterfireError } from '../../error.ts';
import type { SheetPiece } from '../../making/record-paper/piece-sheet.ts';
import { readPhoto } from '../../store/photos.ts';
import type { StudioRecord } from '../../store/record.ts';
import type { Io } from '../io.ts';

/** One photograph as a `data:` address; one that cannot be had is told of and does not stop the print. */
const photoHref = (
  record: StudioRecord,
  number: string,
  sha256: string | undefined,
  io: Io,
): string | undefined => {
  if (sha256 === undefined) return undefined;
  try {
    const { format, bytes } = readPhoto(record, sha256);
    if (format !== 'webp') return `data:image/${format};base64,${Buffer.from(bytes).toString('base64')}`;
    io.err(`${number}: its photograph is WebP, which a PDF cannot hold; it is left out\n`);
  } catch (error) {
    if (!(error instanceof AfterfireError)) throw error;
    io.err(`${number}: ${error.message}\n`);
  }
  return undefined;
};

/** The last photograph of a piece before the fire, and the last after it. */
export const photosOf = (
  record: StudioRecord,
  { number, state: { photos, photosAfter } }: SheetPiece,
  io: Io,
): NonNullable<SheetPiece['photos']> => ({
  before: photoHref(record, number, photos.filter((photo) => !photosAfter.includes(photo)).at(-1), io),
  after: photoHref(record, number, photosAfter.at(-1), io),
});
