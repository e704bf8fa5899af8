import { type CardFound, cardByHand, findCard } from './find-card.ts';
import { findPiece } from './find-piece.ts';
import { inverse, type Point, scaleAt, squashAt, through } from './homography.ts';
import type { Picture } from './picture.ts';
import { evenly, type Ring, ringArea, ringLength } from './ring.ts';
import { type AsPrinted, cardCorners, type ScaleCard } from './scale-card.ts';
import { sharpenEdge } from './sharpen-edge.ts';
import { type Stretch, weakStretches } from './weak-stretches.ts';

/** A piece's outline in the plane of the card. */
export interface Outline {
  /** Once round, anticlockwise: x to the right (any origin), z above the shelf; m. */
  readonly points_m: Ring;
  /** How plainly each point was seen, 0 to 1. */
  readonly sure: Float64Array;
}

export interface PhotoTrouble {
  readonly kind:
    | 'no-scale'
    | 'no-piece'
    | 'cut-by-edge'
    | 'like-background'
    | 'too-coarse'
    | 'card-slanted'
    | 'not-on-shelf';
  readonly text: string;
  /** There is no outline because of it. */
  readonly stops: boolean;
}

export interface PhotoWish {
  /** Distances between the discs by a rule, where the printer changed the size. */
  readonly printed?: AsPrinted;
  /** A place on the piece, if the wrong thing was found, px. */
  readonly piece_px?: Point;
  /** The discs pointed out by hand: lower left, lower right, upper right, upper left, px. */
  readonly discs?: { readonly card: ScaleCard; readonly middles_px: readonly Point[] };
}

export interface PhotoRead {
  readonly card?: CardFound;
  /** Resolution at the piece. */
  readonly pxPerMm?: number;
  readonly outline?: Outline;
  readonly weak: readonly Stretch[];
  readonly troubles: readonly PhotoTrouble[];
}

/** Between points of the outline, px; no more points than this. */
const SPACING_px = 2;
const MOST_POINTS = 4000;
const LEAST_PX_PER_MM = 3;
const MOST_WEAK = 0.6;
/** Cosine of 30°: further round, the plane of the card says little of what is before and behind it. */
const LEAST_SQUASH = 0.866;

const TEXTS: Readonly<Record<PhotoTrouble['kind'], string>> = {
  'no-scale':
    'no scale card seen: all four dark discs must be in the picture, sharp and unshaded. Point them out by hand, or take the picture again',
  'no-piece':
    'nothing stands out from the background: white porcelain shows best before dark, matt cloth. Point to the piece by hand, or take the picture again',
  'cut-by-edge': "the picture's edge cuts the piece: step back so that there is background all round it",
  'like-background':
    'much of the edge is hardly seen: the background is too like the clay there, or too much in shade. Correct the outline by hand, or hang a darker cloth',
  'too-coarse': 'the picture is coarse for this',
  'card-slanted': 'the card faces more than 30° away from the camera: stand the camera square to it',
  'not-on-shelf':
    'the outline does not stand on the lower edge of the card: card and piece must stand on the same level shelf, the card in the plane of the axis',
};

const trouble = (kind: PhotoTrouble['kind'], stops = false, more = ''): PhotoTrouble => ({
  kind,
  stops,
  text: TEXTS[kind] + more,
});

/** The outline in px taken through to the plane, turned anticlockwise. */
const onPlane = (ring: Ring, sure: Float64Array, { toPicture }: CardFound): Outline => {
  const back = inverse(toPicture);
  const n = ring.length / 2;
  const points_m = new Float64Array(ring.length);
  for (let i = 0; i < n; i++) points_m.set(through(back, ring[2 * i], ring[2 * i + 1]), 2 * i);
  if (ringArea(points_m) > 0) return { points_m, sure };
  const turned = points_m.slice();
  for (let i = 0; i < n; i++) turned.set(points_m.subarray(2 * i, 2 * i + 2), 2 * (n - 1 - i));
  return { points_m: turned, sure: sure.slice().reverse() };
};

const troublesOf = (
  outline: Outline,
  card: CardFound,
  pxPerMm: number,
  weakShare: number,
): PhotoTrouble[] => {
  const found: PhotoTrouble[] = [];
  const zs = outline.points_m.filter((_, i) => i % 2 === 1);
  const [low, high] = [zs.reduce((m, z) => Math.min(m, z), 1e9), zs.reduce((m, z) => Math.max(m, z), -1e9)];
  if (weakShare > 0.25)
    found.push(trouble('like-background', false, ` (${Math.round(100 * weakShare)} % of the edge)`));
  if (pxPerMm < LEAST_PX_PER_MM)
    found.push(trouble('too-coarse', false, `: ${pxPerMm.toFixed(1)} pixels a mm; 5 to 10 are good`));
  if (squashAt(card.toPicture, card.card.across_m / 2, card.card.up_m / 2) < LEAST_SQUASH)
    found.push(trouble('card-slanted'));
  if (Math.abs(low) > 0.004 + 0.04 * (high - low))
    found.push(trouble('not-on-shelf', false, ` (it ends ${(1000 * low).toFixed(1)} mm from it)`));
  return found;
};

/**
 * Finds the outline of a piece in a photograph with the scale card standing beside it, in mm of the card's plane.
 * Trouble is told, not thrown; where it does not stop, there is an outline to correct by hand.
 */
export const findOutline = (picture: Picture, wish: PhotoWish = {}): PhotoRead => {
  const card = wish.discs
    ? cardByHand(wish.discs.middles_px, wish.discs.card, wish.printed)
    : findCard(picture, wish.printed);
  if (!card) return { weak: [], troubles: [trouble('no-scale', true)] };
  const paper = cardCorners(card.card, 0.003).map(([x, z]) => through(card.toPicture, x, z));
  const region = findPiece(picture, paper, wish.piece_px);
  if (!region) return { card, weak: [], troubles: [trouble('no-piece', true)] };
  if (region.cut) return { card, weak: [], troubles: [trouble('cut-by-edge', true)] };
  const rough = Float64Array.from(region.ring.flat());
  const count = Math.min(MOST_POINTS, Math.max(40, Math.round(ringLength(rough) / SPACING_px)));
  let ring = evenly(rough, count);
  if (ringArea(ring) < 0) ring = evenly(Float64Array.from([...region.ring].reverse().flat()), count);
  const edge = sharpenEdge(picture, ring, 2 * region.factor + 2);
  const outline = onPlane(edge.ring, edge.sure, card);
  const weak = weakStretches(outline.points_m, outline.sure);
  const middle = through(inverse(card.toPicture), ...boxMiddle(edge.ring));
  const pxPerMm = scaleAt(card.toPicture, ...middle) / 1000;
  const weakShare = weak.reduce((s, w) => s + w.share, 0);
  // A fold of the cloth has no edge to speak of; where a hand has pointed, the hand is believed.
  if (weakShare > MOST_WEAK && !wish.piece_px)
    return { card, weak: [], troubles: [trouble('no-piece', true)] };
  return { card, pxPerMm, outline, weak, troubles: troublesOf(outline, card, pxPerMm, weakShare) };
};

const boxMiddle = (ring: Ring): [number, number] => {
  let [x, y] = [0, 0];
  for (let i = 0; i < ring.length; i += 2) {
    x += (2 * ring[i]) / ring.length;
    y += (2 * ring[i + 1]) / ring.length;
  }
  return [x, y];
};
