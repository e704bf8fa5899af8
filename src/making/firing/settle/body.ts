import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import { nodeNormals } from '../../../kernel/shell/geometry.ts';
import type { Distance } from '../props/prop.ts';
import { rotate, type Vec, weightCentre } from '../rigid.ts';

/**
 * A rigid piece among rigid supports. Each node of the mid-surface keeps half a wall away, measured along the
 * support's normal as the fire measures it: gap = d(x) - (wall/2)·|n · support's normal|. The middles of triangles and
 * of their sides are points too, as in the fire: a narrow prop may stand between the nodes.
 */
export interface Body {
  /** Nodes first, then the middles. */
  readonly positions: Float64Array;
  readonly nodes: number;
  readonly normals: Float64Array;
  readonly half_m: Float64Array;
  /** Where its weight is taken to have its centre; a nudge shifts it. */
  readonly centre: Float64Array;
  /** Rows are where x, y and z of the mesh now point. */
  readonly turn: Float64Array;
  /** Half its greatest extent, m: makes turns comparable to ways. */
  readonly size_m: number;
}

const halfExtent = (p: Float64Array): number => {
  let most = 0;
  for (let c = 0; c < 3; c++) {
    let [low, high] = [Infinity, -Infinity];
    for (let i = c; i < p.length; i += 3) {
      low = Math.min(low, p[i]);
      high = Math.max(high, p[i]);
    }
    most = Math.max(most, (high - low) / 2);
  }
  return most;
};

/** Values at the nodes (`width` each), then at the middles of triangles and of their sides. */
const withMiddles = (values: Float64Array, width: number, triangles: Uint32Array): Float64Array => {
  const out = Array.from(values);
  const sides = new Set<number>();
  const nodes = values.length / width;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    for (let k = 0; k < width; k++)
      out.push((values[width * a + k] + values[width * b + k] + values[width * c + k]) / 3);
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ]) {
      const side = Math.min(p, q) * nodes + Math.max(p, q);
      if (sides.has(side)) continue;
      sides.add(side);
      for (let k = 0; k < width; k++) out.push((values[width * p + k] + values[width * q + k]) / 2);
    }
  }
  return Float64Array.from(out);
};

export const bodyOf = (wall: WallMesh): Body => {
  const own = new Float64Array(wall.positions.length);
  nodeNormals(wall.positions, wall.triangles, own);
  const normals = withMiddles(own, 3, wall.triangles);
  for (let i = 0; i < normals.length; i += 3) {
    const l = Math.hypot(normals[i], normals[i + 1], normals[i + 2]) || 1;
    for (let k = 0; k < 3; k++) normals[i + k] /= l;
  }
  return {
    positions: withMiddles(wall.positions, 3, wall.triangles),
    nodes: wall.thickness_m.length,
    normals,
    half_m: withMiddles(
      wall.thickness_m.map((h) => h / 2),
      1,
      wall.triangles,
    ),
    centre: Float64Array.from(weightCentre(wall, wall.positions)),
    turn: Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1),
    size_m: halfExtent(wall.positions),
  };
};

export const copyOf = (b: Body): Body => ({
  ...b,
  positions: b.positions.slice(),
  normals: b.normals.slice(),
  centre: b.centre.slice(),
  turn: b.turn.slice(),
});

/** Moves by u = (way, size × turn about the centre of weight). */
export const moveBody = (b: Body, u: ArrayLike<number>): void => {
  const [wx, wy, wz] = [u[3] / b.size_m, u[4] / b.size_m, u[5] / b.size_m];
  const angle = Math.hypot(wx, wy, wz);
  if (angle > 0) {
    const axis: Vec = [wx / angle, wy / angle, wz / angle];
    rotate(b.positions, [b.centre[0], b.centre[1], b.centre[2]], axis, angle);
    for (const free of [b.normals, b.turn]) rotate(free, [0, 0, 0], axis, angle);
  }
  shiftBody(b, u[0], u[1], u[2]);
};

export const shiftBody = (b: Body, x: number, y: number, z: number): void => {
  for (const p of [b.positions, b.centre])
    for (let i = 0; i < p.length; i += 3) {
      p[i] += x;
      p[i + 1] += y;
      p[i + 2] += z;
    }
};

/** Where a point of the piece is near a support. */
export interface Touch {
  readonly point: number;
  readonly support: number;
  readonly gap_m: number;
  /** Out of the support. */
  readonly normal: Vec;
  /** From the centre of weight to the skin that touches, m. */
  readonly arm: Vec;
}

const out = new Float64Array(4);

/** The gap of one point over one support, m; leaves the support's normal in `found`. */
export const gapOf = (b: Body, support: Distance, point: number, found: Float64Array = out): number => {
  const i = 3 * point;
  support(b.positions[i], b.positions[i + 1], b.positions[i + 2], found);
  const facing = b.normals[i] * found[0] + b.normals[i + 1] * found[1] + b.normals[i + 2] * found[2];
  return found[3] - b.half_m[point] * Math.abs(facing);
};

/** The level shelf is met at nodes alone: under flat triangles nothing is lower. */
const pointsFor = (b: Body, support: number): number => (support === 0 ? b.nodes : b.half_m.length);

/**
 * What each gap can have shrunk to, so that points far from everything need not be asked again: a gap changes by no more
 * than the piece has travelled since it was taken.
 */
export interface Gaps {
  /** One list a support: gap when asked plus the travel by then, m. */
  readonly asked: readonly Float64Array[];
  travelled_m: number;
}

export const noGaps = (b: Body, supports: readonly Distance[]): Gaps => ({
  asked: supports.map((_, s) => new Float64Array(pointsFor(b, s)).fill(-Infinity)),
  travelled_m: 0,
});

/** Most any gap changes by a move of this length, m: half the diagonal of a cube and the turning of the wall added. */
export const travelOf = (length_m: number): number => 4 * length_m;

/** What is nearer to a support than `reach_m`. Supports: the shelf first. */
export const touchesOf = (
  b: Body,
  supports: readonly Distance[],
  reach_m: number,
  gaps: Gaps = noGaps(b, supports),
): Touch[] => {
  const touches: Touch[] = [];
  const { positions: p, normals: n, centre: c } = b;
  supports.forEach((support, s) => {
    const asked = gaps.asked[s];
    for (let point = 0; point < asked.length; point++) {
      if (asked[point] - gaps.travelled_m >= reach_m) continue;
      const gap_m = gapOf(b, support, point);
      asked[point] = gap_m + gaps.travelled_m;
      if (gap_m >= reach_m) continue;
      const i = 3 * point;
      const normal: Vec = [out[0], out[1], out[2]];
      const facing = n[i] * out[0] + n[i + 1] * out[1] + n[i + 2] * out[2];
      const h = (facing > 0 ? -1 : 1) * b.half_m[point];
      const arm: Vec = [
        p[i] + h * n[i] - c[0],
        p[i + 1] + h * n[i + 1] - c[1],
        p[i + 2] + h * n[i + 2] - c[2],
      ];
      touches.push({ point, support: s, gap_m, normal, arm });
    }
  });
  return touches;
};

/** Deepest any point lies in each support, m (0 where it lies in none); `gaps` up to date with the body. */
export const depthsOf = (
  b: Body,
  supports: readonly Distance[],
  gaps: Gaps = noGaps(b, supports),
): number[] =>
  supports.map((support, s) => {
    let least = 0;
    const asked = gaps.asked[s];
    for (let point = 0; point < asked.length; point++)
      if (asked[point] - gaps.travelled_m < least) least = Math.min(least, gapOf(b, support, point));
    return -least;
  });
