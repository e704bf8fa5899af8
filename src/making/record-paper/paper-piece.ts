import type { PieceState } from '../record/piece-state.ts';

/** What papers say of a piece. */
export interface PaperPiece {
  readonly number: string;
  readonly title?: string;
  readonly form?: string;
  readonly series?: string;
  readonly clay?: string;
  /** Day on the wall clock, YYYY-MM-DD. */
  readonly begun?: string;
  /** What its code says. */
  readonly address: string;
  readonly state: PieceState;
}

/** Makes the squares of a code (ISO/IEC 18004): true is dark. A library does it, and the pure halls know none of it. */
export type Coder = (text: string) => Squares;

export interface Squares {
  readonly side: number;
  readonly dark: (row: number, column: number) => boolean;
}

const STUDIO_LETTERS = 12;

/** The studio's name as it stands in a code: `Reed Lane Porcelain` → `REED-LANE`. Capitals and figures make small codes. */
export const studioKey = (name: string): string => {
  const words = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toUpperCase()
    .split(/[^A-Z0-9]+/)
    .filter((word) => word !== '');
  let key = '';
  for (const word of words) {
    const longer = key === '' ? word : `${key}-${word}`;
    if (longer.length > STUDIO_LETTERS) break;
    key = longer;
  }
  return key || words[0]?.slice(0, STUDIO_LETTERS) || 'STUDIO';
};

/**
 * What a piece's code says: its number after the studio's name; or, where the page has an address that stays, the page
 * of the piece there.
 */
export const pieceAddress = (studio: string, number: string, page?: string): string =>
  page === undefined
    ? `${studioKey(studio)}/${number}`
    : `${page.replace(/[/#]*$/, '')}/#piece/${encodeURIComponent(number)}`;

/** An amount as it is written: 42000 of EUR → `EUR 420.00`; a currency without cents has none. */
export const amountText = (minor: number, currency: string): string => {
  const write = new Intl.NumberFormat('en', { style: 'currency', currency, currencyDisplay: 'code' });
  return write
    .format(minor / 10 ** (write.resolvedOptions().maximumFractionDigits ?? 2))
    .replace(/\u00a0/g, ' ');
};
