import { type Blob, blobsOf } from './blobs.ts';

/** A dark ellipse on light ground: moments of the whole disc, a white middle included. */
export interface Disc {
  readonly x: number;
  readonly y: number;
  readonly area: number;
  readonly xx: number;
  readonly xy: number;
  readonly yy: number;
  readonly ring: boolean;
  /** Grey of the ground less grey of the ink. */
  readonly contrast: number;
  readonly misfit: number;
}

const LEVELS = [25, 45, 65, 85, 105, 125, 145, 165, 190];
const LEAST_AREA = 50;
const LEAST_CONTRAST = 30;

/** A disc with its hole filled, or nothing if the patch is no ellipse. */
const filled = (blob: Blob, holes: readonly Blob[]): Omit<Disc, 'contrast'> | undefined => {
  const parts = [blob, ...holes];
  const area = parts.reduce((s, b) => s + b.area, 0);
  const mean = (of: (b: Blob) => number): number => parts.reduce((s, b) => s + b.area * of(b), 0) / area;
  const [x, y] = [mean((b) => b.x), mean((b) => b.y)];
  const about = (of: (b: Blob) => number): number => mean(of);
  const xx = about((b) => b.xx + (b.x - x) ** 2);
  const xy = about((b) => b.xy + (b.x - x) * (b.y - y));
  const yy = about((b) => b.yy + (b.y - y) ** 2);
  const det = xx * yy - xy * xy;
  if (!(det > 0)) return undefined;
  // A filled ellipse has area 4π√det of its second moments; a square 3.8 % less, a triangle more.
  const misfit = Math.abs(Math.log(area / (4 * Math.PI * Math.sqrt(det))));
  const half = (xx + yy) / 2;
  const slim = Math.sqrt(half * half - det);
  const holeShare = 1 - blob.area / area;
  const centred = holes.every((h) => (h.x - x) ** 2 + (h.y - y) ** 2 < 0.1 * area);
  if (misfit > 0.06 || half - slim < 0.08 * (half + slim) || !centred || holeShare > 0.35) return undefined;
  if (holeShare > 0.02 && holeShare < 0.06) return undefined;
  return { x, y, area, xx, xy, yy, ring: holeShare >= 0.06, misfit };
};

/** How much lighter the darkest of the ground around is than the ink. */
const contrastOf = (grey: Float32Array, width: number, disc: Omit<Disc, 'contrast'>): number => {
  const height = grey.length / width;
  const at = (s: number, k: number): number => {
    // Square root of the moments by Cholesky: turns a unit circle into the disc's edge (twice the deviation).
    const a = Math.sqrt(disc.xx);
    const [b, c] = [disc.xy / a, Math.sqrt(disc.yy - disc.xy ** 2 / disc.xx)];
    const [u, v] = [2 * s * Math.cos((Math.PI * k) / 8), 2 * s * Math.sin((Math.PI * k) / 8)];
    const [x, y] = [Math.floor(disc.x + a * u), Math.floor(disc.y + b * u + c * v)];
    return x < 0 || y < 0 || x >= width || y >= height ? Number.NaN : grey[y * width + x];
  };
  let ground = Number.POSITIVE_INFINITY;
  let ink = 0;
  for (let k = 0; k < 16; k++) {
    ground = Math.min(ground, at(1.4, k));
    ink = Math.max(ink, at(0.7, k));
  }
  return ground - ink;
};

/** Dark discs and rings on lighter ground, best first. */
export const findDiscs = (grey: Float32Array, width: number, most: number): Disc[] => {
  const found: Disc[] = [];
  for (const level of LEVELS) {
    const blobs = blobsOf(grey, width, level, 4);
    const holesOf = new Map<number, Blob[]>();
    for (const b of blobs)
      if (b.light && !b.atEdge && b.area > 4) holesOf.set(b.over, [...(holesOf.get(b.over) ?? []), b]);
    for (const b of blobs) {
      if (b.light || b.atEdge || b.area < LEAST_AREA || b.area > grey.length / 30) continue;
      const disc = filled(b, holesOf.get(b.number) ?? []);
      const contrast = disc ? contrastOf(grey, width, disc) : 0;
      if (disc && contrast > LEAST_CONTRAST) found.push({ ...disc, contrast });
    }
  }
  found.sort((a, b) => b.contrast / (0.02 + b.misfit) - a.contrast / (0.02 + a.misfit));
  const kept: Disc[] = [];
  for (const d of found)
    if (
      kept.length < most &&
      kept.every((k) => (k.x - d.x) ** 2 + (k.y - d.y) ** 2 > 0.2 * (k.area + d.area))
    )
      kept.push(d);
  return kept;
};
