import type { Small } from './picture.ts';

const PASSES = 3;

/**
 * Least range of values (greatest less least) on any way from one side of the picture: nearly nothing through a
 * background that changes slowly, much inside a thing that stands out. By sweeps to and fro
 * (R. Strand and others, Computer Vision and Image Understanding 117 (2013): the minimum barrier distance; from memory).
 */
const fromSide = (
  layer: Float32Array,
  width: number,
  isSeed: (p: number) => boolean,
  into: Float32Array,
): void => {
  const n = layer.length;
  const [high, low] = [layer.slice(), layer.slice()];
  const far = new Float32Array(n).fill(1e9);
  for (let p = 0; p < n; p++) if (isSeed(p)) far[p] = 0;
  const step = (p: number, q: number): void => {
    const top = Math.max(high[q], layer[p]);
    const bottom = Math.min(low[q], layer[p]);
    if (top - bottom < far[p] && far[q] < 1e9) {
      far[p] = top - bottom;
      high[p] = top;
      low[p] = bottom;
    }
  };
  for (let pass = 0; pass < PASSES; pass++) {
    for (let p = 0; p < n; p++) {
      if (p % width > 0) step(p, p - 1);
      if (p >= width) step(p, p - width);
    }
    for (let p = n - 1; p >= 0; p--) {
      if (p % width < width - 1) step(p, p + 1);
      if (p < n - width) step(p, p + width);
    }
  }
  for (let p = 0; p < n; p++) into[p] += far[p];
};

/**
 * How much each pixel stands out from the sides of the picture, 0 to 765: the second least of its barriers from the
 * four sides, so that a thing that one side cuts stands out all the same.
 */
export const standingOut = ({ width, height, layers }: Small): Float32Array => {
  const n = width * height;
  const sides = [
    (p: number) => p < width,
    (p: number) => p >= n - width,
    (p: number) => p % width === 0,
    (p: number) => p % width === width - 1,
  ].map((isSeed) => {
    const sum = new Float32Array(n);
    for (const layer of layers) fromSide(layer, width, isSeed, sum);
    return sum;
  });
  const out = new Float32Array(n);
  for (let p = 0; p < n; p++) {
    let [least, second] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    for (const side of sides) {
      if (side[p] < least) [least, second] = [side[p], least];
      else if (side[p] < second) second = side[p];
    }
    out[p] = second;
  }
  return out;
};

/** The level that parts values best into two heaps (N. Otsu, IEEE Trans. Syst. Man Cybern. 9 (1979) 62). */
export const partingLevel = (values: Float32Array, most: number): number => {
  const bins = 256;
  const count = new Float64Array(bins);
  for (const v of values) count[Math.min(bins - 1, Math.floor((bins * v) / most))]++;
  const total = values.length;
  const sum = count.reduce((s, c, i) => s + i * c, 0);
  let [below, belowSum, best, level] = [0, 0, -1, 0];
  for (let i = 0; i < bins - 1; i++) {
    below += count[i];
    belowSum += i * count[i];
    if (below === 0 || below === total) continue;
    const gap = belowSum / below - (sum - belowSum) / (total - below);
    const between = below * (total - below) * gap * gap;
    if (between > best) [best, level] = [between, i];
  }
  return ((level + 1) * most) / bins;
};
