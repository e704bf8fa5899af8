import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';

const CHUNK = 1 << 20;

/** SHA-256 of a file of any size, in hexadecimal, a piece at a time. */
export const sha256OfFile = (path: string): string => {
  const hash = createHash('sha256');
  const chunk = new Uint8Array(CHUNK);
  const file = openSync(path, 'r');
  try {
    for (let n = 0; (n = readSync(file, chunk, 0, CHUNK, null)) > 0; ) hash.update(chunk.subarray(0, n));
  } finally {
    closeSync(file);
  }
  return hash.digest('hex');
};
