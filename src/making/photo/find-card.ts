import { type Disc, findDiscs } from './find-discs.ts';
import { type Homography, homographyOf, type Point, stretchAt } from './homography.ts';
import { greyOf, type Picture, shrunk } from './picture.ts';
import { refineDiscs } from './refine-discs.ts';
import { type AsPrinted, DISC_RADIUS_m, discMiddles, SCALE_CARDS, type ScaleCard } from './scale-card.ts';

/** The card as it was found. */
export interface CardFound {
  readonly card: ScaleCard;
  /** Middles of its discs in the picture: lower left, lower right, upper right, upper left; pixels. */
  readonly discs_px: readonly Point[];
  /** From the card's plane (x to the right, z up from its lower edge, m) to the picture (pixels). */
  readonly toPicture: Homography;
  /** How far the discs are from being the circles the scale says, a share of their size. */
  readonly misfit: number;
}

const LONGEST_px = 1600;
const MOST_DISCS = 14;
/** Discs further than this from the circles that the scale says are no card of ours. */
const MOST_MISFIT = 0.3;

/** In order round their middle as the eye sees them, anticlockwise; nothing if one lies inside the others. */
const inOrder = (four: readonly Disc[]): Disc[] | undefined => {
  const [mx, my] = [four.reduce((s, d) => s + d.x, 0) / 4, four.reduce((s, d) => s + d.y, 0) / 4];
  const angle = (d: Disc): number => Math.atan2(my - d.y, d.x - mx);
  const turned = [...four].sort((a, b) => angle(a) - angle(b));
  const convex = turned.every((a, i) => {
    const [b, c] = [turned[(i + 1) % 4], turned[(i + 2) % 4]];
    return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x) < 0;
  });
  return convex ? turned : undefined;
};

/** How far a disc seen is from the disc that the scale says: sizes and shape, as a share. */
const discMisfit = (h: Homography, [x, z]: Point, disc: Disc): number => {
  const [a, b, c, d] = stretchAt(h, x, z);
  const s = (DISC_RADIUS_m * DISC_RADIUS_m) / 4;
  const [xx, xy, yy] = [s * (a * a + b * b), s * (a * c + b * d), s * (c * c + d * d)];
  const det = xx * yy - xy * xy;
  const trace = (disc.xx * yy + disc.yy * xx - 2 * disc.xy * xy) / (2 * det);
  const share = Math.sqrt((disc.xx * disc.yy - disc.xy ** 2) / det);
  return Math.max(Math.abs(Math.log(share)), Math.sqrt(Math.max(0, 2 * Math.log(trace / share))));
};

interface Match {
  readonly card: ScaleCard;
  readonly discs: readonly Disc[];
  readonly misfit: number;
}

const matchOf = (four: readonly Disc[]): Match | undefined => {
  const areas = four.map((d) => d.area);
  if (Math.max(...areas) > 3 * Math.min(...areas)) return undefined;
  const rings = four.filter((d) => d.ring).length;
  const card = SCALE_CARDS.find((c) => c.rings === rings);
  const turned = card && inOrder(four);
  if (!card || !turned) return undefined;
  const start = turned.findIndex((d, i) => d.ring && (rings === 1 || turned[(i + 1) % 4].ring));
  if (start < 0) return undefined;
  const discs = [0, 1, 2, 3].map((k) => turned[(start + k) % 4]);
  const plane = discMiddles(card);
  const h = homographyOf(
    plane,
    discs.map((d) => [d.x, d.y]),
  );
  const misfit = Math.max(...plane.map((p, i) => discMisfit(h, p, discs[i])));
  return Number.isFinite(misfit) ? { card, discs, misfit } : undefined;
};

const bestMatch = (discs: readonly Disc[]): Match | undefined => {
  let best: Match | undefined;
  const n = discs.length;
  for (let a = 0; a < n; a++)
    for (let b = a + 1; b < n; b++)
      for (let c = b + 1; c < n; c++)
        for (let d = c + 1; d < n; d++) {
          const match = matchOf([discs[a], discs[b], discs[c], discs[d]]);
          if (match && match.misfit < (best?.misfit ?? MOST_MISFIT)) best = match;
        }
  return best;
};

/**
 * Finds the printed scale in a picture, whichever way the picture is turned; a mirrored one is not taken for it.
 * @param printed the distances between the discs by a rule, where the printer changed the size
 */
export const findCard = (picture: Picture, printed?: AsPrinted): CardFound | undefined => {
  const factor = Math.max(1, Math.round(Math.max(picture.width, picture.height) / LONGEST_px));
  const small = shrunk(picture, factor);
  const match = bestMatch(findDiscs(greyOf(small), small.width, MOST_DISCS));
  if (!match) return undefined;
  const { card, discs, misfit } = match;
  const near = discs.map(({ x, y, area }) => ({
    x: factor * x,
    y: factor * y,
    radius: factor * Math.sqrt(area / Math.PI),
  }));
  const { middles, toPicture } = refineDiscs(picture, near, card, discMiddles(card, printed));
  return { card, discs_px: middles, toPicture, misfit };
};

/** The scale by four discs that a hand has pointed out, in the order of `discs_px`. */
export const cardByHand = (discs_px: readonly Point[], card: ScaleCard, printed?: AsPrinted): CardFound => ({
  card,
  discs_px,
  toPicture: homographyOf(discMiddles(card, printed), discs_px),
  misfit: 0,
});
