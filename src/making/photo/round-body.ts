import type { Camera } from './camera.ts';
import type { Outline } from './find-outline.ts';
import { normalsOf, smoothedAlong } from './ring.ts';

/**
 * A lens at a distance D sees a round body of radius R not at its middle but where its lines of sight touch it, nearer
 * by, so that it looks R/√(1 − R²/D²) wide in the plane of its axis (right triangle of axis, lens and touching point).
 * @returns how much too wide it looks on each side, m; about R³/(2D²)
 */
export const looksWiderBy_m = (radius_m: number, distance_m: number): number =>
  radius_m / Math.sqrt(1 - (radius_m / distance_m) ** 2) - radius_m;

/** Middle line of a body: x at the shelf and x gained a metre up. */
export interface Axis {
  readonly x_m: number;
  readonly lean: number;
}

const SLICES = 60;
const PASSES = 6;
/** Normals more upright than this (share across the line of sight) belong to the flat of lip and foot: the wall is taken up to there. */
const LEAST_ACROSS = 0.2;

/** Leftmost and rightmost crossing of the ring at a height. */
const spanAt = (p: Float64Array, z: number): readonly [number, number] | undefined => {
  let [left, right] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < p.length; i += 2) {
    const j = (i + 2) % p.length;
    if (p[i + 1] < z === p[j + 1] < z) continue;
    const x = p[i] + ((z - p[i + 1]) / (p[j + 1] - p[i + 1])) * (p[j] - p[i]);
    left = Math.min(left, x);
    right = Math.max(right, x);
  }
  return right > left ? [left, right] : undefined;
};

const median = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[list.length >> 1];

/** A straight line through middles at their heights that a lug or a dent does not turn (Theil and Sen). */
const lineThrough = (middles: readonly (readonly [z: number, x: number])[]): Axis => {
  const half = middles.length >> 1;
  if (half === 0) return { x_m: middles[0]?.[1] ?? 0, lean: 0 };
  const lean = median(
    middles.slice(0, half).map(([z, x], i) => (middles[i + half][1] - x) / (middles[i + half][0] - z)),
  );
  return { x_m: median(middles.map(([z, x]) => x - lean * z)), lean };
};

/** Heights between foot and lip with the outline's left and right there. */
const spans = (p: Float64Array): [z: number, left: number, right: number][] => {
  const top = p.reduce((m, v, i) => (i % 2 === 1 && v > m ? v : m), 0);
  const found: [number, number, number][] = [];
  for (let k = 0; k < SLICES; k++) {
    const z = top * (0.05 + (0.87 * k) / SLICES);
    const span = spanAt(p, z);
    if (span) found.push([z, ...span]);
  }
  return found;
};

/** A first middle line: what halves the lines of sight to both sides. */
const firstAxis = (p: Float64Array, { x_m, distance_m }: Camera): Axis => {
  const sight = (x: number): number => Math.atan2(x - x_m, distance_m);
  return lineThrough(
    spans(p).map(([z, left, right]) => [z, x_m + distance_m * Math.tan((sight(left) + sight(right)) / 2)]),
  );
};

/** The section if the axis is there: points beside it, and which points of the outline they come from. */
const sectionAbout = (
  p: Float64Array,
  normals: Float64Array,
  camera: Camera,
  axis: Axis,
): { points: number[]; from: number[] } => {
  const [cx, cz, cy] = [camera.x_m, camera.z_m, camera.distance_m];
  const points: number[] = [];
  const from: number[] = [];
  for (let i = 0; i < p.length / 2; i++) {
    const [nx, nz] = [normals[2 * i], normals[2 * i + 1]];
    // The sight line d from the lens (y = D before the plane) to the point, and the normal of the tangent plane.
    const [dx, dz, dy] = [p[2 * i] - cx, p[2 * i + 1] - cz, -cy];
    const ny = (nx * dx + nz * dz) / cy;
    // cx + t dx + s nx = axis(cz + t dz),  cy + t dy + s ny = 0
    const [a, b] = [dx - axis.lean * dz, axis.x_m + axis.lean * cz - cx];
    const det = a * ny - dy * nx;
    // Where sight and normal run one way seen from above, any height would do.
    const across = det / (Math.hypot(dx, dy) * Math.hypot(nx, nz, ny));
    if (Math.abs(across) < LEAST_ACROSS) continue;
    const t = (b * ny + cy * nx) / det;
    const [qx, qy, qz] = [cx + t * dx, cy + t * dy, cz + t * dz];
    const middle = axis.x_m + axis.lean * qz;
    points.push(middle + Math.sign(across) * Math.hypot(qx - middle, qy), qz);
    from.push(i);
  }
  return { points, from };
};

/**
 * The section through the axis of a round body, from its outline as one lens saw it. The plane through the lens and the
 * tangent of the outline touches the body where its normal meets the axis: two linear equations, exact for any stack of
 * level circles on a straight axis. The axis is where left and right come out alike. The flat of lip and foot, seen as
 * arcs, is drawn straight.
 */
export const roundBody = (outline: Outline, camera: Camera): Outline & { readonly axis: Axis } => {
  const { points_m: p, sure } = outline;
  const normals = normalsOf(smoothedAlong(p, 2, 6));
  let axis = firstAxis(p, camera);
  let section = sectionAbout(p, normals, camera, axis);
  for (let pass = 0; pass < PASSES; pass++) {
    axis = lineThrough(
      spans(Float64Array.from(section.points)).map(([z, left, right]) => [z, (left + right) / 2]),
    );
    section = sectionAbout(p, normals, camera, axis);
  }
  return {
    points_m: Float64Array.from(section.points),
    sure: Float64Array.from(section.from, (i) => sure[i]),
    axis,
  };
};
