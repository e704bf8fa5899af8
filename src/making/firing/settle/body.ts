import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import { nodeNormals } from '../../../kernel/shell/geometry.ts';
import type { Distance } from '../props/prop.ts';
import { rotate, type Vec, weightCentre } from '../rigid.ts';

/**
 * A rigid piece among rigid supports. Each node of the mid-surface keeps half a wall away, measured along the
 * support's normal as the fire measures it: gap = d(x) - (wall/2)·|n · support's normal|.
 */
export interface Body {
  readonly positions: Float64Array;
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

export const bodyOf = (wall: WallMesh): Body => {
  const positions = wall.positions.slice();
  const normals = new Float64Array(positions.length);
  nodeNormals(positions, wall.triangles, normals);
  return {
    positions,
    normals,
    half_m: wall.thickness_m.map((h) => h / 2),
    centre: Float64Array.from(weightCentre(wall, positions)),
    turn: Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1),
    size_m: halfExtent(positions),
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

/** Where a node is near a support. */
export interface Touch {
  readonly node: number;
  readonly support: number;
  readonly gap_m: number;
  /** Out of the support. */
  readonly normal: Vec;
  /** From the centre of weight to the skin that touches, m. */
  readonly arm: Vec;
}

const out = new Float64Array(4);

/** The gap of one node over one support, m; leaves the support's normal in `found`. */
export const gapOf = (b: Body, support: Distance, node: number, found: Float64Array = out): number => {
  const i = 3 * node;
  support(b.positions[i], b.positions[i + 1], b.positions[i + 2], found);
  const facing = b.normals[i] * found[0] + b.normals[i + 1] * found[1] + b.normals[i + 2] * found[2];
  return found[3] - b.half_m[node] * Math.abs(facing);
};

/** What is nearer to a support than `reach_m`. */
export const touchesOf = (b: Body, supports: readonly Distance[], reach_m: number): Touch[] => {
  const touches: Touch[] = [];
  const { positions: p, normals: n, centre: c } = b;
  supports.forEach((support, s) => {
    for (let node = 0; node < b.half_m.length; node++) {
      const gap_m = gapOf(b, support, node);
      if (gap_m >= reach_m) continue;
      const i = 3 * node;
      const normal: Vec = [out[0], out[1], out[2]];
      const facing = n[i] * out[0] + n[i + 1] * out[1] + n[i + 2] * out[2];
      const h = (facing > 0 ? -1 : 1) * b.half_m[node];
      const arm: Vec = [
        p[i] + h * n[i] - c[0],
        p[i + 1] + h * n[i + 1] - c[1],
        p[i + 2] + h * n[i + 2] - c[2],
      ];
      touches.push({ node, support: s, gap_m, normal, arm });
    }
  });
  return touches;
};

/** Deepest any node lies in each support, m (0 where it lies in none). */
export const depthsOf = (b: Body, supports: readonly Distance[]): number[] =>
  supports.map((support) => {
    let least = 0;
    for (let node = 0; node < b.half_m.length; node++) least = Math.min(least, gapOf(b, support, node));
    return -least;
  });
