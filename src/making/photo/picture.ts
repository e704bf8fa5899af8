/** A decoded picture: four bytes a pixel (red, green, blue, opacity) in sRGB, row by row from the top left. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
}

/** A picture made smaller by averaging squares of `factor` pixels: three layers of sRGB values, 0 to 255. */
export interface Small {
  readonly width: number;
  readonly height: number;
  readonly factor: number;
  readonly layers: readonly [Float32Array, Float32Array, Float32Array];
}

/** Averages whole squares; a rest of less than a square at the right and lower edge is left out. */
export const shrunk = ({ width, height, data }: Picture, factor: number): Small => {
  const [w, h] = [Math.floor(width / factor), Math.floor(height / factor)];
  const layers = [0, 1, 2].map(() => new Float32Array(w * h)) as [Float32Array, Float32Array, Float32Array];
  const [r, g, b] = layers;
  for (let y = 0; y < h * factor; y++) {
    const row = Math.floor(y / factor) * w;
    for (let x = 0, p = 4 * y * width; x < w; x++) {
      const q = row + x;
      for (let k = 0; k < factor; k++, p += 4) {
        r[q] += data[p];
        g[q] += data[p + 1];
        b[q] += data[p + 2];
      }
    }
  }
  const share = 1 / (factor * factor);
  for (const layer of layers) for (let q = 0; q < layer.length; q++) layer[q] *= share;
  return { width: w, height: h, factor, layers };
};

/** Lightness as the eye weighs the three colours (Rec. 709 weights on the coded values), 0 to 255. */
export const greyOf = ({ layers: [r, g, b] }: Small): Float32Array =>
  r.map((x, i) => 0.2126 * x + 0.7152 * g[i] + 0.0722 * b[i]);

/** Light, 0 to 1, behind each of the 256 values: an edge pixel mixes light, not values (IEC 61966-2-1). */
const LIGHT = Float64Array.from({ length: 256 }, (_, v) => {
  const c = v / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
});

/** The light of a colour at a place between pixels; pixel (i, j) has its middle at (i + 0.5, j + 0.5). */
export const lightAt = (
  { width, height, data }: Picture,
  x: number,
  y: number,
  out: Float64Array,
  at = 0,
): void => {
  const u = Math.min(width - 1, Math.max(0, x - 0.5));
  const v = Math.min(height - 1, Math.max(0, y - 0.5));
  const [i, j] = [Math.min(width - 2, Math.floor(u)), Math.min(height - 2, Math.floor(v))];
  const [s, t] = [u - i, v - j];
  const p = 4 * (j * width + i);
  const below = p + 4 * width;
  for (let k = 0; k < 3; k++)
    out[at + k] =
      (1 - t) * ((1 - s) * LIGHT[data[p + k]] + s * LIGHT[data[p + 4 + k]]) +
      t * ((1 - s) * LIGHT[data[below + k]] + s * LIGHT[data[below + 4 + k]]);
};
