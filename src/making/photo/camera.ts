import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { badInput } from '../../error.ts';
import type { Homography, Point } from './homography.ts';
import type { Picture } from './picture.ts';

/** Where the lens stood, in the card's plane (x, z) and before it, m. */
export interface Camera {
  readonly x_m: number;
  readonly z_m: number;
  readonly distance_m: number;
}

/** What is known of the camera: its distance from the plane of card and axis, or its lens. */
export type CameraKnown =
  | { readonly distance_m: number }
  /** Focal length as if the film were 36 × 24 mm, as cameras note it in the picture, m. */
  | { readonly lens35_m: number };

/** Diagonal of 36 × 24 mm film, on which equivalent focal lengths rest (CIPA DCG-001; from memory). */
const FILM_DIAGONAL_m = Math.hypot(0.036, 0.024);

/** Pose of a plane seen through a lens of focal length f (pixels) whose middle is the picture's. */
const lensAt = (h: Homography, f: number, [u, v]: Point): Camera => {
  const side = (k: number): number[] => [(h[k] - u * h[6 + k]) / f, (h[3 + k] - v * h[6 + k]) / f, h[6 + k]];
  const [a, b, t] = [side(0), side(1), side(2)];
  const size = (Math.hypot(...a) + Math.hypot(...b)) / 2;
  const sign = t[2] < 0 ? -1 : 1;
  const [r1, r2, at] = [a, b, t].map((w) => w.map((x) => (sign * x) / size));
  const r3 = [r1[1] * r2[2] - r1[2] * r2[1], r1[2] * r2[0] - r1[0] * r2[2], r1[0] * r2[1] - r1[1] * r2[0]];
  // The nearest rotation: the plane's two sides come out square and of one length only if f is right.
  const svd = new SingularValueDecomposition(new Matrix([r1, r2, r3]).transpose());
  const r = svd.leftSingularVectors.mmul(svd.rightSingularVectors.transpose());
  const c = r.transpose().mmul(Matrix.columnVector(at)).to1DArray();
  return { x_m: -c[0], z_m: -c[1], distance_m: -c[2] };
};

/**
 * Where the lens stood, from the homography of the plane and what is known of the camera. Takes the pixels as square
 * and the lens as over the middle of the picture: a picture that was cropped to one side misleads it.
 * @throws AfterfireError `bad-input` for a distance or lens that is not of this world
 */
export const cameraOf = (
  toPicture: Homography,
  { width, height }: Pick<Picture, 'width' | 'height'>,
  known: CameraKnown,
): Camera => {
  const middle: Point = [width / 2, height / 2];
  if ('lens35_m' in known) {
    if (!(known.lens35_m > 0.008 && known.lens35_m < 2))
      throw badInput('lens35_mm', 1000 * known.lens35_m, 'between 8 and 2000 mm');
    return lensAt(toPicture, (known.lens35_m / FILM_DIAGONAL_m) * Math.hypot(width, height), middle);
  }
  if (!(known.distance_m > 0.2 && known.distance_m < 50))
    throw badInput('camera distance_mm', 1000 * known.distance_m, 'between 200 and 50000 mm');
  // The longer the lens, the further away it must have stood.
  let [low, high] = [0.1 * width, 100 * width];
  for (let k = 0; k < 60; k++) {
    const f = Math.sqrt(low * high);
    if (lensAt(toPicture, f, middle).distance_m < known.distance_m) low = f;
    else high = f;
  }
  return { ...lensAt(toPicture, low, middle), distance_m: known.distance_m };
};
