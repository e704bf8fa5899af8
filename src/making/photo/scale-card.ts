import type { Point } from './homography.ts';

/**
 * Our printed scale: four dark discs on white at the corners of a rectangle. Lower discs with a white middle tell
 * which way it stands and which of the two cards it is. Its lower edge stands on the shelf, so it brings the shelf too.
 */
export interface ScaleCard {
  readonly name: 'small' | 'large';
  /** Between the middles of the discs, m. */
  readonly across_m: number;
  readonly up_m: number;
  /** How many of the lower discs have a white middle, counted from the left. */
  readonly rings: 1 | 2;
}

export const SCALE_CARDS: readonly ScaleCard[] = [
  { name: 'small', across_m: 0.12, up_m: 0.08, rings: 1 },
  { name: 'large', across_m: 0.22, up_m: 0.13, rings: 2 },
];

export const DISC_RADIUS_m = 0.006;
export const HOLE_RADIUS_m = 0.0024;
/** From the middle of a disc to the edge where the card is cut; the lower edge is the shelf. */
export const CARD_MARGIN_m = 0.015;

/** What somebody's rule says of the printed card, where the printer did not keep the size. */
export interface AsPrinted {
  readonly across_m: number;
  readonly up_m: number;
}

/**
 * Middles of the discs: lower left, lower right, upper right, upper left; x from the left ones, z from the shelf, m.
 * The margin is printed too, so it grows and shrinks with the print.
 */
export const discMiddles = (card: ScaleCard, printed: AsPrinted = card): Point[] => {
  const low = (CARD_MARGIN_m * printed.up_m) / card.up_m;
  const { across_m: w, up_m: h } = printed;
  return [
    [0, low],
    [w, low],
    [w, low + h],
    [0, low + h],
  ];
};

/** Corners of the paper, `more_m` beyond its edge; anticlockwise from the lower left. */
export const cardCorners = (card: ScaleCard, more_m: number): Point[] => {
  const [left, right] = [-CARD_MARGIN_m - more_m, card.across_m + CARD_MARGIN_m + more_m];
  const [low, high] = [-more_m, card.up_m + 2 * CARD_MARGIN_m + more_m];
  return [
    [left, low],
    [right, low],
    [right, high],
    [left, high],
  ];
};
