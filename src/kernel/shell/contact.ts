import { AT_ONCE, LANDING, MOST_RELEASES, NEXT_TO_BLOCK } from './contact-tolerances.ts';
import type { Frames } from './frames.ts';
import type { Link } from './link.ts';

/**
 * One-sided contact: a node may rest on a support and lift off it, never pass it. What touches is the outer
 * skin, so each node's mid-surface stays half a wall away, measured along the support's normal.
 */

/** How the shelf takes hold of what rests on it. */
export type Grip = 'slides' | 'grips';

/** All that may touch in one step. Arrays one a node where nothing else is said. */
export interface Contacts {
  /** What each node may rest on: 0 the shelf, k obstacle k - 1, -1 nothing within reach. */
  readonly on: Int16Array;
  /** Least speed allowed along the support's normal, m/s; -Infinity where there is no support. */
  readonly bound_m_s: Float64Array;
  /** Axes of the nodes that are nearest to something other than the shelf. */
  readonly frames: Frames | undefined;
  /** Nodes that rest: first guess, then answer. */
  readonly resting: Uint8Array;
  readonly links: readonly Link[];
  /** Least speed along each link, m/s. */
  readonly linkBound_m_s: Float64Array;
  /** Push of each link by its key, N: first guess, then answer; only those that push. */
  readonly pushing: Map<number, number>;
}

/**
 * Height of each mid-surface node above the shelf when its skin touches: (wall/2)·|n_z|, which is right
 * for a wall lying flat, standing on edge, or leaning.
 */
export const standOff = (normals: Float64Array, wall_m: Float64Array, out: Float64Array): void => {
  for (let n = 0; n < out.length; n++) out[n] = 0.5 * wall_m[n] * Math.abs(normals[3 * n + 2]);
};

/**
 * Least speed along its normal allowed to a point `gap` away from its support, for a step of AB2 with ratio r, which
 * goes dt·((1 + r/2)·v - r/2·last). What lands may go on for a part of the step, at most `beyond_m` past its support;
 * what lies too deep is brought up in one step, or in `ease_s` where that is longer: a short step must not kick.
 * A gap within `level_m` counts as none: correcting nanometres in one step would load the nodes of a flat foot unevenly.
 * @param last its speed in the last step @param opening speed at which the support itself draws back
 */
export const boundFor = (
  exact: number,
  dt: number,
  r: number,
  last: number,
  opening: number,
  beyond_m: number,
  level_m: number,
  ease_s: number,
): number => {
  const gap = Math.sign(exact) * Math.max(0, Math.abs(exact) - level_m);
  const toGo = (way: number, in_s: number): number =>
    (-way / in_s + 0.5 * r * (last + opening)) / (1 + 0.5 * r);
  const bound =
    gap > 0 ? Math.max(-gap / (LANDING * dt), toGo(gap + beyond_m, dt)) : toGo(gap, Math.max(dt, ease_s));
  return bound - opening;
};

/** Room for the contact search; arrays one a node. */
export interface ContactSearch {
  /** Nodes held at their bound; first guess, then answer. */
  readonly resting: Uint8Array;
  /** Least speed allowed along the normal, m/s. */
  readonly bound: Float64Array;
  /** Speeds along it of the last admissible state, m/s. */
  readonly admitted: Float64Array;
  /** How often a node has been let go in this search. */
  readonly released: Uint8Array;
}

/**
 * One round of the search for what rests, a primal active set (J. Nocedal, S. J. Wright, "Numerical Optimization",
 * 16.5) that takes many nodes at a time. From the last admissible speeds it goes towards the solution with the
 * present supports; what blocks the way becomes a support, and only where nothing blocks are pulled nodes let go,
 * so the power falls from round to round and the search cannot run in circles. (Changing supports on every
 * violation at once did: 27, 77, 29, 75 ... nodes.)
 * @param speed along the normal with the present supports @param reaction force on each node along it, N
 * @param pull_N pull a support bears before it is let go @returns how many nodes changed
 */
export const searchContacts = (
  s: ContactSearch,
  speed: Float64Array,
  reaction: Float64Array,
  pull_N: number,
  slack_m_s: number,
): number => {
  const { resting, bound, admitted, released } = s;
  const wayTo = (n: number): number => Math.max(0, admitted[n] - bound[n]) / (admitted[n] - speed[n]);
  const blocks = (n: number): boolean => !resting[n] && speed[n] < bound[n] - slack_m_s;
  let way = 1;
  for (let n = 0; n < resting.length; n++) if (blocks(n)) way = Math.min(way, wayTo(n));
  let changed = 0;
  if (way < 1) {
    const near = Math.max(NEXT_TO_BLOCK * way, AT_ONCE);
    for (let n = 0; n < resting.length; n++)
      if (blocks(n) && wayTo(n) <= near) {
        resting[n] = 1;
        changed++;
      }
    for (let n = 0; n < resting.length; n++) admitted[n] += way * (speed[n] - admitted[n]);
    return changed;
  }
  admitted.set(speed);
  let standing = 0;
  for (const r of resting) standing += r;
  for (let n = 0; n < resting.length; n++)
    if (resting[n] && reaction[n] < -pull_N && released[n] < MOST_RELEASES && standing > 1) {
      resting[n] = 0;
      released[n]++;
      standing--;
      changed++;
    }
  return changed;
};

/** First guess at what rests: everything within `near_m` of its support, and the nearest node in any case. */
export const firstContacts = (resting: Uint8Array, gap_m: Float64Array, near_m: number): void => {
  let nearest = 0;
  for (let n = 0; n < resting.length; n++) {
    if (gap_m[n] < gap_m[nearest]) nearest = n;
    resting[n] = gap_m[n] < near_m ? 1 : 0;
  }
  resting[nearest] = 1;
};
