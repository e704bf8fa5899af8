import { type Homography, homographyOf, type Point, through } from './homography.ts';
import { lightAt, type Picture } from './picture.ts';
import { DISC_RADIUS_m, HOLE_RADIUS_m, type ScaleCard } from './scale-card.ts';

interface Near {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

const WINDOW = 1.35;
const CORNERS = 48;

/** Middle of the ink: each pixel counts by its share of ink, between the ground around it and the darkest of the disc. */
const inkMiddle = (picture: Picture, { x, y, radius }: Near): Point => {
  const reach = Math.ceil(1.5 * radius);
  const colour = new Float64Array(3);
  const grey = (i: number, j: number): number => {
    lightAt(picture, i, j, colour);
    return colour[0] + colour[1] + colour[2];
  };
  const ground: number[] = [];
  const ink: number[] = [];
  for (let k = 0; k < 64; k++) {
    const [c, s] = [Math.cos((Math.PI * k) / 32), Math.sin((Math.PI * k) / 32)];
    ground.push(grey(x + 1.4 * radius * c, y + 1.4 * radius * s));
    ink.push(grey(x + 0.6 * radius * c, y + 0.6 * radius * s));
  }
  const middle = (list: number[]): number => list.sort((a, b) => a - b)[list.length >> 1];
  const [white, dark] = [middle(ground), middle(ink)];
  let [sum, sx, sy] = [0, 0, 0];
  for (let j = Math.floor(y - reach) + 0.5; j <= y + reach; j++)
    for (let i = Math.floor(x - reach) + 0.5; i <= x + reach; i++) {
      if ((i - x) ** 2 + (j - y) ** 2 > (WINDOW * radius) ** 2) continue;
      const share = (white - grey(i, j)) / (white - dark);
      // Less than a fifth of ink is noise and shade of the paper.
      const w = share < 0.2 ? 0 : Math.min(1, share);
      sum += w;
      sx += w * i;
      sy += w * j;
    }
  return sum > 0 ? [sx / sum, sy / sum] : [x, y];
};

/** Area and middle of a circle of the plane as the picture shows it (polygon formulas). */
const seenCircle = (h: Homography, [x, z]: Point, radius: number): [number, number, number] => {
  let [area, mx, my] = [0, 0, 0];
  const at = (k: number): [number, number] => {
    const a = (2 * Math.PI * k) / CORNERS;
    return through(h, x + radius * Math.cos(a), z + radius * Math.sin(a));
  };
  const [ox, oy] = at(0);
  for (let k = 0; k < CORNERS; k++) {
    const [[ax, ay], [bx, by]] = [at(k), at(k + 1)].map(([u, v]) => [u - ox, v - oy]);
    const cross = ax * by - bx * ay;
    area += cross / 2;
    mx += ((ax + bx) * cross) / 6;
    my += ((ay + by) * cross) / 6;
  }
  return [area, ox + mx / area, oy + my / area];
};

/** Middle of what is seen of the ink less the place where the disc's own middle is seen: nothing, but in perspective. */
const lead = (h: Homography, at: Point, hole: boolean): Point => {
  const [x, y] = through(h, at[0], at[1]);
  const [area, mx, my] = seenCircle(h, at, DISC_RADIUS_m);
  if (!hole) return [mx - x, my - y];
  const [none, hx, hy] = seenCircle(h, at, HOLE_RADIUS_m);
  return [(area * mx - none * hx) / (area - none) - x, (area * my - none * hy) / (area - none) - y];
};

/** Discs to a fraction of a pixel, and the homography through their middles. */
export const refineDiscs = (
  picture: Picture,
  near: readonly Near[],
  card: ScaleCard,
  plane: readonly Point[],
): { middles: Point[]; toPicture: Homography } => {
  const seen = near.map((disc) => {
    const [x, y] = inkMiddle(picture, disc);
    return inkMiddle(picture, { ...disc, x, y });
  });
  let middles = seen;
  let toPicture = homographyOf(plane, middles);
  for (let pass = 0; pass < 3; pass++) {
    middles = seen.map(([x, y], i) => {
      const [dx, dy] = lead(toPicture, plane[i], i < card.rings);
      return [x - dx, y - dy];
    });
    toPicture = homographyOf(plane, middles);
  }
  return { middles, toPicture };
};
