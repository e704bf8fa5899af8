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

/**
 * One round of the active set: lets go of resting nodes that are pulled, holds free nodes whose speed would
 * carry them through the shelf.
 * @param reaction upward force on each node (N, one a node) @param speed vertical speed (m/s) @param bound least
 *   vertical speed allowed (m/s) @param pull_N pull a resting node bears before it is let go; it and `slack_m_s`
 *   keep flat feet from chattering @returns how many nodes changed
 */
export const updateContacts = (
  resting: Uint8Array,
  reaction: Float64Array,
  speed: Float64Array,
  bound: Float64Array,
  pull_N: number,
  slack_m_s: number,
): number => {
  let changed = 0;
  let soonest = 1;
  let standing = 0;
  for (let n = 0; n < resting.length; n++)
    if (resting[n]) standing++;
    else if (bound[n] < 0 && speed[n] < bound[n] - slack_m_s)
      soonest = Math.max(soonest, speed[n] / bound[n]);
  // Where a piece would drop as a whole, only what lands first is held in this round.
  const hasty = soonest > HASTY ? soonest / 2 : 0;
  for (let n = 0; n < resting.length; n++) {
    if (resting[n]) {
      // The last support is never let go: a piece without one only falls back on it.
      if (reaction[n] < -pull_N && standing > 1) {
        resting[n] = 0;
        standing--;
        changed++;
      }
    } else if (speed[n] < bound[n] - slack_m_s && (bound[n] >= 0 || speed[n] / bound[n] >= hasty)) {
      resting[n] = 1;
      changed++;
    }
  }
  return changed;
};

/** A node this many times too fast for its gap means a missing support, not a slow sag. */
const HASTY = 10;

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
