import type { Distance } from '../props/prop.ts';
import {
  type Body,
  copyOf,
  depthsOf,
  type Gaps,
  moveBody,
  noGaps,
  type Touch,
  touchesOf,
  travelOf,
} from './body.ts';
import { nearestInCone, type Rows } from './nearest-in-cone.ts';

/**
 * A rigid piece let go gently: of all small moves that pass no support it takes the one that lowers its weight most for
 * its length, again and again, until nothing lowers it. So it rests where its potential energy is least, which is
 * where pushes of the supports balance the weight. With friction each touching point pushes anywhere in its cone, so
 * the piece also stays wherever such pushes balance the weight; a point that slides is lifted a little by its cone
 * and sinks back in the next move (the associated rule, exact for what stays and for what tips or rolls).
 */
export interface Settled {
  readonly kind: 'rests' | 'tips' | 'falls' | 'slides off' | 'does not come to rest';
  readonly moves: number;
}

export interface SettleWish {
  /** Coefficient of friction; 0 for none. */
  readonly friction: number;
  /** Direction the axis of the piece had at first, and how far it may turn from it, rad. */
  readonly axis: readonly [number, number, number];
  readonly mostLean_rad: number;
  /** How far its weight may wander sideways, m. */
  readonly mostWay_m: number;
  /** How far its weight may sink, m. */
  readonly mostDrop_m: number;
  readonly mostMoves: number;
}

/** Points this near a support touch it, m. */
export const TOUCHING_m = 3e-5;
/** Part of the weight that may be left unbalanced. */
const BALANCED = 1e-3;
/** Longest and shortest move, as parts of half the size; on gentle slopes the pull may be larger than the move. */
const LONGEST = 0.05;
const LONGEST_PULL = 2;
/** Supports within this many moves are asked for each move. */
const REACH = 4;
const SHORTEST = 1e-7;
/** Friction holds what is nearer than this part of half the size: turning lifts a touching point by its square. */
const STICKS = 1e-3;
const CONE_SIDES = 8;

/** Rows of a touching point: its normal, or with friction the sides of its cone (a cone inscribed in the round one). */
const rowsFor = (touches: readonly Touch[], size: number, friction: number, most_m: number): Rows => {
  const rows: number[] = [];
  const room: number[] = [];
  const add = (t: Touch, x: number, y: number, z: number): void => {
    const l = Math.hypot(x, y, z);
    const [a, b, c] = t.arm;
    rows.push(x / l, y / l, z / l);
    rows.push((b * z - c * y) / (l * size), (c * x - a * z) / (l * size), (a * y - b * x) / (l * size));
    // What lies too deep comes up in several moves.
    room.push(Math.max(-most_m, t.gap_m) / l);
  };
  for (const t of touches) {
    const [x, y, z] = t.normal;
    if (friction === 0 || t.gap_m > STICKS * size) {
      add(t, x, y, z);
      continue;
    }
    // First tangent in the upright plane along x: a piece that leans along x slides along it.
    const across = Math.hypot(x, z) > 1e-6 ? [z, 0, -x] : [1, 0, 0];
    const l = Math.hypot(across[0], across[2]);
    const [ux, uz] = [across[0] / l, across[2] / l];
    const [vx, vy, vz] = [y * uz, z * ux - x * uz, -y * ux];
    for (let k = 0; k < CONE_SIDES; k++) {
      const [c, s] = [Math.cos((2 * Math.PI * k) / CONE_SIDES), Math.sin((2 * Math.PI * k) / CONE_SIDES)];
      add(t, x + friction * (c * ux + s * vx), y + friction * s * vy, z + friction * (c * uz + s * vz));
    }
  }
  return { rows: Float64Array.from(rows), room: Float64Array.from(room), width: 6 };
};

const lengthOf = (u: Float64Array): number => Math.hypot(...u);

/** How far the axis has turned from where it was asked to be, rad. */
export const leanOf = (b: Body, axis: SettleWish['axis']): number =>
  Math.acos(Math.min(1, Math.max(-1, b.turn[6] * axis[0] + b.turn[7] * axis[1] + b.turn[8] * axis[2])));

/** Height of the weight, with what lies inside a support counted dearly. */
const worth = (b: Body, supports: readonly Distance[], gaps: Gaps): number =>
  b.centre[2] + 10 * Math.max(...depthsOf(b, supports, gaps));

/** Lets the piece settle; `body` ends where it rests. Supports: the shelf first. */
export const settle = (body: Body, supports: readonly Distance[], wish: SettleWish): Settled => {
  const size = body.size_m;
  const [startX, startY, startZ] = body.centre;
  const target = new Float64Array(6);
  let pull = 0.4 * LONGEST * size;
  const gaps = noGaps(body, supports);
  let before = worth(body, supports, gaps);
  for (let moves = 0; ; moves++) {
    if (leanOf(body, wish.axis) > wish.mostLean_rad) return { kind: 'tips', moves };
    if (body.centre[2] < startZ - wish.mostDrop_m) return { kind: 'falls', moves };
    if (Math.hypot(body.centre[0] - startX, body.centre[1] - startY) > wish.mostWay_m)
      return { kind: 'slides off', moves };
    target[2] = -pull;
    const longest = Math.min(pull, LONGEST * size);
    const rows = rowsFor(touchesOf(body, supports, REACH * longest, gaps), size, wish.friction, longest);
    const nearest = nearestInCone(rows, target, 1e-5 * longest);
    const length = nearest ? lengthOf(nearest.u) : 0;
    if (nearest && length < BALANCED * pull) return { kind: 'rests', moves };
    if (moves >= wish.mostMoves) return { kind: 'does not come to rest', moves };
    const tried = copyOf(body);
    // Only near supports were asked: a longer move is cut short.
    const share = Math.min(1, (0.5 * REACH * longest) / length);
    if (nearest)
      moveBody(
        tried,
        Float64Array.from(nearest.u, (x) => share * x),
      );
    const travelled_m = gaps.travelled_m + travelOf(share * length);
    const after = worth(tried, supports, { ...gaps, travelled_m });
    if (nearest && after < before - (1e-4 * share * length * length) / pull) {
      for (const part of ['positions', 'normals', 'centre', 'turn'] as const) body[part].set(tried[part]);
      gaps.travelled_m = travelled_m;
      before = after;
      pull = Math.min(2 * pull, (length < longest ? LONGEST_PULL : LONGEST) * size);
    } else {
      pull = Math.min(pull, longest) / 3;
      if (pull < SHORTEST * size) return { kind: 'rests', moves };
    }
  }
};
