import { RUB_SETTLED, STICK } from './contact-tolerances.ts';
import type { ShellSystem } from './system.ts';

/**
 * Coulomb friction as a drag that is found again and again: on a resting node pressed with N and sliding at u over
 * its support acts -μN·u/max(|u|, ε), so it slides where it must and creeps at less than ε where it sticks. For a
 * given N each round lowers the power of the whole (the drag at the last u lies above the friction's own power and
 * touches it there), which is why it settles; N follows from round to round. The drag only ever takes energy from
 * the motion against the support. Tresca's problem and its regularisation: R. Glowinski, "Numerical Methods for
 * Nonlinear Variational Problems" (1984), II.
 */
export interface Rubbing {
  readonly coefficient: number;
  /** Velocity of the support under each node (3 × nodes, global axes), m/s. */
  readonly support_m_s: Float64Array;
  /** Push along the normal on each node, N: last known, then answer. */
  readonly push_N: Float64Array;
  /** Drag of each node in the matrix at present, N·s/m. */
  readonly drag: Float64Array;
  /** A speed the sliding is measured by where it is slow, m/s; 0 before any is known. */
  readonly typical_m_s: number;
}

/** Sliding of a node over its support along its own axes 0 and 1; both arrays along those axes. */
const slide = (s: ShellSystem, x: Float64Array, support: Float64Array, n: number): number => {
  const i = 6 * s.rank[n];
  return Math.hypot(x[i] - support[3 * n], x[i + 1] - support[3 * n + 1]);
};

/**
 * Puts the drag that belongs to speeds x (elimination order, own axes) in place of the one in the matrix, and the
 * support's pull along with it into `right`; does nothing where that would change nothing that matters.
 * @param support the supports' velocities along the nodes' own axes
 * @returns whether it did
 */
export const rub = (
  r: Rubbing,
  s: ShellSystem,
  x: Float64Array,
  support: Float64Array,
  right: Float64Array,
): boolean => {
  let fastest = r.typical_m_s;
  for (let n = 0; n < s.nodes; n++) if (r.push_N[n] > 0) fastest = Math.max(fastest, slide(s, x, support, n));
  if (!(fastest > 0)) return false;
  const wanted = new Float64Array(s.nodes);
  let changed = 0;
  let sum = 0;
  for (let n = 0; n < s.nodes; n++) {
    const push = r.push_N[n];
    if (push === 0 && r.drag[n] === 0) continue;
    const u = slide(s, x, support, n);
    wanted[n] = (r.coefficient * push) / Math.max(u, STICK * fastest);
    changed += Math.abs(wanted[n] - r.drag[n]) * u;
    sum += r.coefficient * push;
  }
  if (changed <= RUB_SETTLED * sum) return false;
  for (let n = 0; n < s.nodes; n++) if (wanted[n] !== r.drag[n]) put(r, s, n, wanted[n], support, right);
  return true;
};

const put = (
  r: Rubbing,
  s: ShellSystem,
  n: number,
  drag: number,
  support: Float64Array,
  right: Float64Array,
): void => {
  const i = s.rank[n];
  const k = 36 * s.matrix.start[i];
  const more = drag - r.drag[n];
  for (let c = 0; c < 2; c++) {
    s.matrix.values[k + 7 * c] += more;
    right[6 * i + c] += more * support[3 * n + c];
  }
  r.drag[n] = drag;
};
