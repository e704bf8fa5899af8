import type { Small } from './picture.ts';

const STEPS = 1024;
/** Binomial smoothing in x and y by (1 2 1)/4; edges keep their own value. */
const smoothed = (layer: Float32Array, width: number): Float32Array => {
  const n = layer.length;
  const across = layer.slice();
  for (let p = 1; p < n - 1; p++)
    if (p % width > 0 && p % width < width - 1)
      across[p] = 0.25 * layer[p - 1] + 0.5 * layer[p] + 0.25 * layer[p + 1];
  const out = across.slice();
  for (let p = width; p < n - width; p++)
    out[p] = 0.25 * across[p - width] + 0.5 * across[p] + 0.25 * across[p + width];
  return out;
};

/** Steepness of the colour at each pixel, 0 to 1023: the steepest of the three layers. */
export const steepness = ({ width, layers }: Small): Uint16Array => {
  const n = layers[0].length;
  const out = new Uint16Array(n);
  for (const layer of layers) {
    const s = smoothed(layer, width);
    for (let p = width + 1; p < n - width - 1; p++) {
      const steep = 4 * Math.hypot(s[p + 1] - s[p - 1], s[p + width] - s[p - width]);
      if (steep > out[p]) out[p] = Math.min(STEPS - 1, steep);
    }
  }
  return out;
};

/**
 * Grows labels (1, 2, ...) over all that is 0, the flattest pixels first, so that they meet on the steepest line between
 * them: watershed from markers (F. Meyer, 1991; from memory). A soft shadow is crossed long before a sharp edge is.
 * Changes `label`.
 */
export const flood = (label: Uint8Array, steep: Uint16Array, width: number): void => {
  const n = label.length;
  const next = new Int32Array(n).fill(-1);
  const head = new Int32Array(STEPS).fill(-1);
  const tail = new Int32Array(STEPS).fill(-1);
  let level = 0;
  const push = (p: number): void => {
    const s = Math.max(level, steep[p]);
    if (head[s] < 0) head[s] = p;
    else next[tail[s]] = p;
    tail[s] = p;
  };
  const spread = (p: number, fresh: (q: number) => void): void => {
    if (p % width > 0) fresh(p - 1);
    if (p % width < width - 1) fresh(p + 1);
    if (p >= width) fresh(p - width);
    if (p < n - width) fresh(p + width);
  };
  const take = (p: number): void =>
    spread(p, (q) => {
      if (label[q] !== 0) return;
      label[q] = label[p];
      push(q);
    });
  for (let p = 0; p < n; p++) {
    if (label[p] === 0) continue;
    let open = false;
    spread(p, (q) => {
      if (label[q] === 0) open = true;
    });
    if (open) push(p);
  }
  while (level < STEPS) {
    const p = head[level];
    if (p < 0) {
      level++;
      continue;
    }
    head[level] = next[p];
    next[p] = -1;
    take(p);
  }
};
