import { contours } from 'd3-contour';
import { partingLevel, standingOut } from './barrier.ts';
import { type Blob, blobsOf } from './blobs.ts';
import { flood, steepness } from './flood.ts';
import type { Point } from './homography.ts';
import { type Picture, type Small, shrunk } from './picture.ts';

const COARSE_px = 500;
const FINE_px = 2000;
const BACKGROUND = 1;
const PIECE = 2;
/** A thing that stands out less than this (of 765) is not told from noise and folds of a cloth. */
const LEAST_STANDING_OUT = 24;
/** Less of the picture than this is a speck. */
const LEAST_SHARE = 0.002;

/** The piece as a region of the picture. */
export interface PieceRegion {
  /** Its edge to about a pixel of the `factor` times smaller picture, once round; pixels of the whole picture. */
  readonly ring: readonly Point[];
  readonly factor: number;
  /** The picture's edge cuts it. */
  readonly cut: boolean;
}

/** Sets all pixels inside a polygon (pixels of the whole picture). */
const paint = (
  into: Uint8Array,
  { width, height, factor }: Small,
  polygon: readonly Point[],
  value: number,
): void => {
  for (let y = 0; y < height; y++) {
    const at = factor * (y + 0.5);
    const crossings: number[] = [];
    polygon.forEach(([ax, ay], i) => {
      const [bx, by] = polygon[(i + 1) % polygon.length];
      if (ay > at !== by > at) crossings.push((ax + ((at - ay) / (by - ay)) * (bx - ax)) / factor);
    });
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2)
      for (
        let x = Math.max(0, Math.ceil(crossings[k] - 0.5));
        x < Math.min(width, crossings[k + 1] - 0.5);
        x++
      )
        into[y * width + x] = value;
  }
};

/** Steps to the nearest pixel that is not inside, by two sweeps (3-4 chamfer; G. Borgefors, 1986), in thirds of a pixel. */
const depthOf = (inside: Uint8Array, width: number): Int32Array => {
  const n = inside.length;
  const depth = Int32Array.from(inside, (v) => (v ? 1e6 : 0));
  const sweep = (p: number, side: number): void => {
    if (depth[p] === 0) return;
    const at = (q: number, cost: number): void => {
      const d = (q < 0 || q >= n ? 0 : depth[q]) + cost;
      if (d < depth[p]) depth[p] = d;
    };
    at(p - side, 3);
    at(p - side * width, 3);
    at(p - side * (width + 1), 4);
    at(p - side * (width - 1), 4);
  };
  for (let p = 0; p < n; p++) sweep(p, 1);
  for (let p = n - 1; p >= 0; p--) sweep(p, -1);
  return depth;
};

/** The piece's heart: the largest patch that stands out, well inside its edge, where no shadow reaches. */
const heartOf = (small: Small, out: Float32Array, level: number, at?: Point): Uint8Array | undefined => {
  const { width, factor } = small;
  const n = out.length;
  const patches = blobsOf(out, width, level, LEAST_SHARE * n).filter((b) => b.light);
  const holds = ({ box }: Blob, [x, y]: Point): boolean =>
    x >= factor * box[0] && x <= factor * (box[2] + 1) && y >= factor * box[1] && y <= factor * (box[3] + 1);
  const likely = at ? patches.filter((b) => holds(b, at)) : patches;
  const best = likely.sort((a, b) => b.area - a.area)[0];
  if (!best) return undefined;
  const inside = new Uint8Array(n);
  // Only what is joined to the patch: flood it from its own deepest pixel.
  for (let p = 0; p < n; p++) {
    const [x, y] = [p % width, Math.floor(p / width)];
    const boxed = x >= best.box[0] && x <= best.box[2] && y >= best.box[1] && y <= best.box[3];
    inside[p] = boxed && out[p] > level ? 1 : 0;
  }
  const depth = depthOf(inside, width);
  const deepest = depth.reduce((m, d) => Math.max(m, d), 0);
  const heart = new Uint8Array(n);
  const start = depth.indexOf(deepest);
  const open = [start];
  heart[start] = 1;
  for (let p = open.pop(); p !== undefined; p = open.pop())
    for (const q of [p - 1, p + 1, p - width, p + width])
      if (heart[q] === 0 && depth[q] >= 0.5 * deepest) {
        heart[q] = 1;
        open.push(q);
      }
  return heart;
};

const isBorder = (p: number, width: number, n: number): boolean =>
  p < width || p >= n - width || p % width === 0 || p % width === width - 1;

/** Which pixels of a small picture are the piece (2) and which are not (1); nothing if nothing stands out. */
const coarseRegion = (
  small: Small,
  card: readonly Point[] | undefined,
  at?: Point,
): Uint8Array | undefined => {
  const { width } = small;
  const out = standingOut(small);
  const noPiece = new Uint8Array(out.length);
  if (card) paint(noPiece, small, card, 1);
  for (let p = 0; p < out.length; p++) if (noPiece[p]) out[p] = 0;
  const level = Math.max(LEAST_STANDING_OUT, partingLevel(out, 766));
  const heart = heartOf(small, out, level, at);
  if (!heart) return undefined;
  const label = new Uint8Array(out.length);
  for (let p = 0; p < label.length; p++) {
    if (noPiece[p] || (isBorder(p, width, label.length) && out[p] < level)) label[p] = BACKGROUND;
    else if (heart[p]) label[p] = PIECE;
  }
  flood(label, steepness(small), width);
  return label;
};

/** The same, finer: only a band about the coarse edge is asked again. */
const fineRegion = (coarse: Small, label: Uint8Array, fine: Small): Uint8Array => {
  const out = new Uint8Array(fine.width * fine.height);
  const reach = 2;
  const near = new Uint8Array(label.length);
  for (let p = 0; p < label.length; p++) {
    const [x, y] = [p % coarse.width, Math.floor(p / coarse.width)];
    for (let j = -reach; j <= reach && !near[p]; j++)
      for (let i = -reach; i <= reach; i++) {
        const [u, v] = [x + i, y + j];
        if (u < 0 || v < 0 || u >= coarse.width || v >= coarse.height) continue;
        if (label[v * coarse.width + u] !== label[p]) near[p] = 1;
      }
  }
  const per = coarse.factor / fine.factor;
  for (let y = 0; y < fine.height; y++)
    for (let x = 0; x < fine.width; x++) {
      const q =
        Math.min(coarse.height - 1, Math.floor(y / per)) * coarse.width +
        Math.min(coarse.width - 1, Math.floor(x / per));
      out[y * fine.width + x] = near[q] ? 0 : label[q];
    }
  flood(out, steepness(fine), fine.width);
  return out;
};

const ringArea = (ring: readonly (readonly number[])[]): number =>
  ring.reduce((s, [x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length];
    return s + (x * v - u * y) / 2;
  }, 0);

/**
 * Finds the piece: what stands out most from the sides of the picture, up to the sharpest edge around it.
 * @param card corners of the scale card's paper in the picture: not the piece
 * @param at a place on the piece, if a hand pointed it out
 * @returns nothing where nothing stands out
 */
export const findPiece = (
  picture: Picture,
  card: readonly Point[] | undefined,
  at?: Point,
): PieceRegion | undefined => {
  const longest = Math.max(picture.width, picture.height);
  const factor = Math.max(1, Math.round(longest / FINE_px));
  const coarse = shrunk(picture, factor * Math.max(1, Math.round(longest / (factor * COARSE_px))));
  const label = coarseRegion(coarse, card, at);
  if (!label) return undefined;
  const fine = shrunk(picture, factor);
  const region = fineRegion(coarse, label, fine);
  const isPiece = Array.from(region, (v) => (v === PIECE ? 1 : 0));
  let cut = false;
  for (let p = 0; p < isPiece.length; p++)
    if (isPiece[p] && isBorder(p, fine.width, isPiece.length)) cut = true;
  const [shape] = contours().size([fine.width, fine.height]).smooth(true).thresholds([0.5])(isPiece);
  const rings = shape.coordinates.map(([outer]) => outer);
  const ring = rings.sort((a, b) => Math.abs(ringArea(b)) - Math.abs(ringArea(a)))[0];
  if (!ring) return undefined;
  return { ring: ring.slice(0, -1).map(([x, y]): Point => [factor * x, factor * y]), factor, cut };
};
