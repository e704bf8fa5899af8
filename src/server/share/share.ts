import type { DeviceBook } from './devices.ts';
import { type Codes, codeShown, makeCodes, type OpenCode } from './pairing-code.ts';

/** Letting other devices of the studio in: the code that is open now, those let in, and where they find us. */
export interface Share {
  readonly codes: Codes;
  readonly book: DeviceBook;
  readonly now_ms: () => number;
  /** The secure address other devices use, and the plain one where they learn to trust it; undefined while nothing is shared. */
  readonly places: { readonly secure: string; readonly trust: string; readonly fingerprint: string };
  /** The code that is open, for the laptop's own screen. */
  opened: OpenCode | undefined;
}

export const makeShare = (
  book: DeviceBook,
  places: Share['places'],
  now_ms: () => number,
  codes: Codes = makeCodes(),
): Share => ({ book, places, now_ms, codes, opened: undefined });

/** Sharing as a switch on the laptop: off until someone there opens it. */
export interface Sharing {
  readonly now: () => Share | undefined;
  /** Throws `cannot-do` where this machine is on no network of its own. */
  readonly start: () => Promise<Share>;
  readonly stop: () => Promise<void>;
}

/** Where a device goes with a code; the code stands after #, which browsers send nowhere. */
export const joinAddress = (share: Share): string | undefined =>
  share.opened && `${share.places.secure}#join=${codeShown(share.opened.code)}`;
