import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** A phone or tablet that was let in. What it shows to come in again is kept only as a hash: the file gives nobody a way in. */
export interface Device {
  readonly id: string;
  /** As its owner calls it. */
  readonly name: string;
  readonly tokenHash: string;
  readonly since_ms: number;
  readonly seen_ms: number;
}

/** Where the devices are written down; the store's business. */
export interface DeviceBook {
  readonly all: () => readonly Device[];
  readonly put: (device: Device) => void;
  readonly remove: (id: string) => void;
}

const hashOf = (token: string): string => createHash('sha256').update(token).digest('hex');

/** Writes a new device down and gives it what it must show from now on: `id.secret`. */
export const letIn = (book: DeviceBook, name: string, now_ms: number): string => {
  const id = randomBytes(9).toString('base64url');
  const secret = randomBytes(32).toString('base64url');
  book.put({ id, name, tokenHash: hashOf(secret), since_ms: now_ms, seen_ms: now_ms });
  return `${id}.${secret}`;
};

/** The device that shows this, if it was let in and not put out since. */
export const deviceOf = (book: DeviceBook, shown: string | undefined): Device | undefined => {
  const [id, secret] = (shown ?? '').split('.');
  const device = book.all().find((d) => d.id === id);
  if (!device || secret === undefined) return undefined;
  const [a, b] = [Buffer.from(device.tokenHash, 'hex'), Buffer.from(hashOf(secret), 'hex')];
  return a.length === b.length && timingSafeEqual(a, b) ? device : undefined;
};
