/** The look of every drawing: warm paper, dark ink, one accent. */
export const PAPER = '#f7f1e6';
export const GRID_FINE = '#ece2d0';
export const GRID_STRONG = '#dccdb4';
export const INK = '#2a2521';
export const PALE_INK = '#75695c';
export const ACCENT = '#b23a1e';
/** Where the piece might as well end up. */
export const BAND = '#b9a36f';
export const PROP = '#e6dac3';
/** Porcelain that did not move. */
export const BISCUIT = '#dcd6ca';

const channels = (hex: string): [number, number, number] =>
  [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)) as [number, number, number];

/** Where a piece came out inside of what was wanted: cool, and darker than porcelain. */
const INSIDE = '#2b5f75';

const mixed = (from: string, to: string, share: number): string => {
  const [a, b] = [channels(from), channels(to)];
  return `#${a
    .map((c, k) =>
      Math.round(c + share * (b[k] - c))
        .toString(16)
        .padStart(2, '0'),
    )
    .join('')}`;
};

/** From porcelain that kept its shape (0) to porcelain that moved most (1); lightness falls all the way, so it survives a grey print. */
export const sagColour = (share: number): string => mixed(BISCUIT, ACCENT, Math.min(Math.max(share, 0), 1));

/** From furthest inside (0) by way of just right (a half) to furthest outside (1). */
export const differenceColour = (share: number): string => {
  const t = 2 * Math.min(Math.max(share, 0), 1) - 1;
  return mixed(BISCUIT, t < 0 ? INSIDE : ACCENT, Math.abs(t));
};
