import { B } from '../numerics/block-matrix.ts';
import type { ShellSystem } from './system.ts';

/**
 * Nodes whose three velocities are counted along axes of their own, the third along a contact normal, so that
 * "no nearer to the support" stays a bound on one unknown. Rotation rates stay global.
 */
export interface Frames {
  /** 1 for a node with axes of its own. */
  readonly framed: Uint8Array;
  /** 9 × nodes: unit axes row by row; meaningless where not framed. */
  readonly axes: Float64Array;
}

/**
 * Axes for normal n, written row by row: the least turn that takes z to n, so that they change as little as n
 * does. An axis in which the node is held (one of x, y, z; -1: none) stays one of them.
 * @returns false where the normal lies along a held axis and nothing is left to bound
 */
export const axesFor = (
  out: Float64Array,
  at: number,
  n: readonly [number, number, number],
  held: number,
): boolean => {
  let [x, y, z] = n;
  if (held >= 0) {
    const free = [x, y, z];
    free[held] = 0;
    const length = Math.hypot(free[0], free[1], free[2]);
    if (length < 0.1) return false;
    [x, y, z] = free.map((f) => f / length);
    const h = [0, 0, 0];
    h[held] = 1;
    const t = [y * h[2] - z * h[1], z * h[0] - x * h[2], x * h[1] - y * h[0]];
    out.set([h[0], h[1], h[2], t[0], t[1], t[2], x, y, z], at);
    return true;
  }
  // From below (z < 0) the turn starts at -z, with y turned over too, to stay right-handed.
  const s = z < -0.5 ? -1 : 1;
  const k = 1 / (1 + s * z);
  out.set([1 - k * x * x, -k * x * y, -s * x, -s * k * x * y, s * (1 - k * y * y), -y, x, y, z], at);
  return true;
};

const turned = new Float64Array(18);

/** Counts the rows and columns of the framed nodes along their own axes. */
export const turnMatrix = (s: ShellSystem, f: Frames): void => {
  const { matrix, order } = s;
  const v = matrix.values;
  for (let j = 0; j < matrix.nodes; j++) {
    const column = order[j];
    for (let k = matrix.start[j]; k < matrix.start[j + 1]; k++) {
      const row = order[matrix.row[k]];
      if (f.framed[row]) turnRows(v, 36 * k, f.axes, 9 * row);
      if (f.framed[column]) turnColumns(v, 36 * k, f.axes, 9 * column);
    }
  }
};

const turnRows = (v: Float64Array, o: number, a: Float64Array, at: number): void => {
  for (let r = 0; r < 3; r++)
    for (let c = 0; c < B; c++)
      turned[B * r + c] =
        a[at + 3 * r] * v[o + c] + a[at + 3 * r + 1] * v[o + 6 + c] + a[at + 3 * r + 2] * v[o + 12 + c];
  for (let i = 0; i < 18; i++) v[o + i] = turned[i];
};

const turnColumns = (v: Float64Array, o: number, a: Float64Array, at: number): void => {
  for (let r = 0, p = o; r < B; r++, p += B) {
    const x = v[p];
    const y = v[p + 1];
    const z = v[p + 2];
    for (let c = 0; c < 3; c++) v[p + c] = a[at + 3 * c] * x + a[at + 3 * c + 1] * y + a[at + 3 * c + 2] * z;
  }
};

/** Counts vectors at nodes (`stride` values a node, the first three of them) along the nodes' own axes, in place. */
export const turnVectors = (f: Frames, v: Float64Array, stride: number): void => {
  for (let n = 0; n < f.framed.length; n++) {
    if (!f.framed[n]) continue;
    const o = stride * n;
    const [x, y, z] = [v[o], v[o + 1], v[o + 2]];
    for (let c = 0, a = 9 * n; c < 3; c++, a += 3)
      v[o + c] = f.axes[a] * x + f.axes[a + 1] * y + f.axes[a + 2] * z;
  }
};

/** The way back to x, y, z. */
export const turnBack = (f: Frames, v: Float64Array, stride: number): void => {
  for (let n = 0; n < f.framed.length; n++) {
    if (!f.framed[n]) continue;
    const o = stride * n;
    const [x, y, z] = [v[o], v[o + 1], v[o + 2]];
    for (let c = 0, a = 9 * n; c < 3; c++, a++)
      v[o + c] = f.axes[a] * x + f.axes[a + 3] * y + f.axes[a + 6] * z;
  }
};

/** Which of the own axes are held where global ones are: 6 × nodes (empty for none), not changed unless framed. */
export const turnHeld = (f: Frames | undefined, held: Uint8Array): Uint8Array => {
  if (!f || held.length === 0) return held;
  const out = held.slice();
  for (let n = 0; n < f.framed.length; n++) {
    if (!f.framed[n]) continue;
    for (let c = 0; c < 3; c++) {
      out[B * n + c] = 0;
      for (let g = 0; g < 3; g++)
        if (held[B * n + g] && Math.abs(f.axes[9 * n + 3 * c + g]) > 1 - 1e-9) out[B * n + c] = 1;
    }
  }
  return out;
};
