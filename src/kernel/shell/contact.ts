/**
 * One-sided contact with a flat shelf at z = 0: a node may rest on it and lift off it, never pass it.
 * What touches is the outer skin, so each node's mid-surface stays half a wall away, measured along z.
 */

/** How the shelf takes hold of what rests on it. */
export type Grip = 'slides' | 'grips';

/**
 * Height of each mid-surface node above the shelf when its skin touches: (wall/2)·|n_z|, which is right
 * for a wall lying flat, standing on edge, or leaning.
 */
export const standOff = (normals: Float64Array, wall_m: Float64Array, out: Float64Array): void => {
  for (let n = 0; n < out.length; n++) out[n] = 0.5 * wall_m[n] * Math.abs(normals[3 * n + 2]);
};

/** Room for the contact search; arrays one a node. */
export interface ContactSearch {
  /** Nodes held at their bound; first guess, then answer. */
  readonly resting: Uint8Array;
  /** Least vertical speed allowed, m/s. */
  readonly bound: Float64Array;
  /** Vertical speeds of the last admissible state, m/s. */
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
 * @param speed vertical speed with the present supports @param reaction upward force on each node, N
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

/** Nodes that block a little later than the first are taken along. */
const NEXT_TO_BLOCK = 1.5;
const AT_ONCE = 1e-6;
/** A node let go and caught again this often stays: the rest is below what matters. */
const MOST_RELEASES = 2;

/** First guess at what rests: everything within `near_m` of the shelf, and the lowest node in any case. */
export const firstContacts = (
  resting: Uint8Array,
  positions: Float64Array,
  standOff_m: Float64Array,
  near_m: number,
): void => {
  let lowest = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let n = 0; n < resting.length; n++) {
    const gap = positions[3 * n + 2] - standOff_m[n];
    if (gap < least) {
      least = gap;
      lowest = n;
    }
    resting[n] = gap < near_m ? 1 : 0;
  }
  resting[lowest] = 1;
};
