import type { Pose } from '../../making/firing/pose.ts';
import type { Picture } from '../worker/film.ts';

/** Points drawn on a wall that go along with it: each is bound to one triangle, by its corners and how far it stands off. */
export interface Bound {
  readonly corners: Uint32Array;
  /** Shares of the three corners, three a point; they add up to 1. */
  readonly shares: Float32Array;
  /** Off the triangle along its normal, m, in the size it was bound at. */
  readonly off_m: Float32Array;
}

/** Points of the piece as drawn, where the dry piece stands in its setting, m. */
export const setAs = (points: Float64Array, { turn, shift_m }: Pose, scale: number): Float32Array => {
  const out = new Float32Array(points.length);
  for (let i = 0; i < points.length; i += 3)
    for (let c = 0; c < 3; c++)
      out[i + c] =
        shift_m[c]! +
        scale * (turn[c]! * points[i]! + turn[3 + c]! * points[i + 1]! + turn[6 + c]! * points[i + 2]!);
  return out;
};

/** Unit normal and the three corners' places in `p`. */
const frameOf = (p: Float32Array, corners: ArrayLike<number>, at: number) => {
  const [a, b, c] = [3 * corners[at]!, 3 * corners[at + 1]!, 3 * corners[at + 2]!];
  const [ux, uy, uz] = [p[b]! - p[a]!, p[b + 1]! - p[a + 1]!, p[b + 2]! - p[a + 2]!];
  const [vx, vy, vz] = [p[c]! - p[a]!, p[c + 1]! - p[a + 1]!, p[c + 2]! - p[a + 2]!];
  const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const twice = Math.hypot(n[0]!, n[1]!, n[2]!) || 1;
  return { a, b, c, u: [ux, uy, uz], v: [vx, vy, vz], n: n.map((x) => x / twice), twice };
};

const nearestNode = (p: Float32Array, x: number, y: number, z: number): number => {
  let [best, least] = [0, Number.POSITIVE_INFINITY];
  for (let i = 0; i < p.length; i += 3) {
    const d = (p[i]! - x) ** 2 + (p[i + 1]! - y) ** 2 + (p[i + 2]! - z) ** 2;
    if (d < least) [least, best] = [d, i / 3];
  }
  return best;
};

const trianglesAt = (triangles: Uint32Array, nodes: number): number[][] => {
  const out = Array.from({ length: nodes }, (): number[] => []);
  for (let t = 0; t < triangles.length; t++) out[triangles[t]!]!.push(t - (t % 3));
  return out;
};

/** Binds points to the triangle round their nearest node that they lie over best. */
export const bind = (points: Float32Array, p: Float32Array, triangles: Uint32Array): Bound => {
  const at = trianglesAt(triangles, p.length / 3);
  const count = points.length / 3;
  const bound = {
    corners: new Uint32Array(3 * count),
    shares: new Float32Array(3 * count),
    off_m: new Float32Array(count),
  };
  for (let k = 0; k < count; k++) {
    const [x, y, z] = [points[3 * k]!, points[3 * k + 1]!, points[3 * k + 2]!];
    let most = Number.NEGATIVE_INFINITY;
    for (const t of at[nearestNode(p, x, y, z)]!) {
      const f = frameOf(p, triangles, t);
      const w = [x - p[f.a]!, y - p[f.a + 1]!, z - p[f.a + 2]!];
      // Shares by the areas of the triangles the point makes with each side.
      const cross = (u: number[], v: number[]): number =>
        (f.n[0]! * (u[1]! * v[2]! - u[2]! * v[1]!) +
          f.n[1]! * (u[2]! * v[0]! - u[0]! * v[2]!) +
          f.n[2]! * (u[0]! * v[1]! - u[1]! * v[0]!)) /
        f.twice;
      const [b, c] = [cross(w, f.v), cross(f.u, w)];
      const inside = Math.min(b, c, 1 - b - c);
      if (inside <= most) continue;
      most = inside;
      bound.corners.set(triangles.subarray(t, t + 3), 3 * k);
      bound.shares.set([1 - b - c, b, c], 3 * k);
      bound.off_m[k] = f.n[0]! * w[0]! + f.n[1]! * w[1]! + f.n[2]! * w[2]!;
    }
  }
  return bound;
};

/** Where bound points are in a later picture of the same triangles, m. */
export const follow = (
  { corners, shares, off_m }: Bound,
  { positions: p, linearScale }: Pick<Picture, 'positions' | 'linearScale'>,
): Float32Array => {
  const out = new Float32Array(shares.length);
  for (let k = 0; k < off_m.length; k++) {
    const { a, b, c, n } = frameOf(p, corners, 3 * k);
    for (let i = 0; i < 3; i++)
      out[3 * k + i] =
        shares[3 * k]! * p[a + i]! +
        shares[3 * k + 1]! * p[b + i]! +
        shares[3 * k + 2]! * p[c + i]! +
        linearScale * off_m[k]! * n[i]!;
  }
  return out;
};
