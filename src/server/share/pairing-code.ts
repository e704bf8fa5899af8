import { randomInt, timingSafeEqual } from 'node:crypto';

/**
 * The code by which a phone or tablet on the studio's own network is let in: shown on the laptop, typed or scanned on the
 * other device, good once and for a short while. Eight of 26 signs are 2e11 codes; FAILS wrong ones close it, so the odds
 * of guessing it are one in forty thousand million.
 */

/** No vowels (no words), no letters or digits that look alike. */
const LETTERS = 'BCDFGHJKMNPQRTVWXYZ2346789';
const LENGTH = 8;
export const CODE_GOOD_FOR_ms = 5 * 60_000;
export const FAILS = 5;

export interface OpenCode {
  readonly code: string;
  readonly until_ms: number;
}

export interface Codes {
  /** A new code; the one before is gone. */
  readonly open: (now_ms: number) => OpenCode;
  readonly close: () => void;
  /** Whether this is the open code; a right one is used up, too many wrong ones close it. */
  readonly take: (said: string, now_ms: number) => 'right' | 'wrong' | 'none open';
}

/** As typed by hand: capitals or not, with or without the gap in the middle. */
const plain = (said: string): string => said.toUpperCase().replace(/[\s-]/g, '');

const same = (a: string, b: string): boolean =>
  a.length === b.length && timingSafeEqual(Buffer.from(a), Buffer.from(b));

/** `BCDF-GHJK`, as it is shown. */
export const codeShown = (code: string): string => `${code.slice(0, LENGTH / 2)}-${code.slice(LENGTH / 2)}`;

/** @param pick a random whole number below its argument, from a source fit for secrets */
export const makeCodes = (pick: (below: number) => number = (below) => randomInt(below)): Codes => {
  let now: (OpenCode & { fails: number }) | undefined;
  return {
    open: (now_ms) => {
      const code = Array.from({ length: LENGTH }, () => LETTERS[pick(LETTERS.length)]).join('');
      now = { code, until_ms: now_ms + CODE_GOOD_FOR_ms, fails: 0 };
      return { code, until_ms: now.until_ms };
    },
    close: () => {
      now = undefined;
    },
    take: (said, now_ms) => {
      if (!now || now_ms >= now.until_ms) {
        now = undefined;
        return 'none open';
      }
      if (same(plain(said), now.code)) {
        now = undefined;
        return 'right';
      }
      now.fails++;
      if (now.fails >= FAILS) now = undefined;
      return 'wrong';
    },
  };
};
