import { nodeNormals } from '../../../kernel/shell/geometry.ts';
import { rigidTurn, turnAbout } from '../../../kernel/shell/rigid-turn.ts';

/** How near a fired shape is to the wanted one, node by node. */

/** Which way it may be laid on the wanted one: slid and turned on the shelf only, or any way at all. */
export type Free = 'on the shelf' | 'any way';

/** The shape (3 × nodes) laid on the wanted one as well as a rigid motion can, in the least-squares sense. */
export const laidOn = (shape: Float64Array, wanted: Float64Array, free: Free): Float64Array =>
  free === 'any way' ? laidAnyWay(shape, wanted) : slid(shape, wanted);

const laidAnyWay = (shape: Float64Array, wanted: Float64Array): Float64Array => {
  const { from, to, axis, angle_rad } = rigidTurn(shape, wanted);
  const out = new Float64Array(shape.length);
  for (let i = 0; i < shape.length; i += 3) {
    turnAbout(axis, angle_rad, [shape[i] - from[0], shape[i + 1] - from[1], shape[i + 2] - from[2]], out, i);
    for (let c = 0; c < 3; c++) out[i + c] += to[c];
  }
  return out;
};

const slid = (shape: Float64Array, wanted: Float64Array): Float64Array => {
  const nodes = shape.length / 3;
  const middle = (p: Float64Array, c: number): number => {
    let sum = 0;
    for (let i = c; i < p.length; i += 3) sum += p[i];
    return sum / nodes;
  };
  const [ax, ay, bx, by] = [middle(shape, 0), middle(shape, 1), middle(wanted, 0), middle(wanted, 1)];
  let [along, across] = [0, 0];
  for (let i = 0; i < shape.length; i += 3) {
    const [x, y, u, v] = [shape[i] - ax, shape[i + 1] - ay, wanted[i] - bx, wanted[i + 1] - by];
    along += x * u + y * v;
    across += x * v - y * u;
  }
  const angle = Math.atan2(across, along);
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const out = shape.slice();
  for (let i = 0; i < shape.length; i += 3) {
    const [x, y] = [shape[i] - ax, shape[i + 1] - ay];
    out[i] = bx + c * x - s * y;
    out[i + 1] = by + s * x + c * y;
  }
  return out;
};

/**
 * Which way each open edge (lip, edge of an opening) looks: in the surface, square to the edge, away from the wall; unit
 * vectors, nought for nodes inside the wall. An edge is open where one triangle alone has it.
 */
const edgeNormals = (positions: Float64Array, triangles: Uint32Array): Float64Array => {
  const nodes = positions.length / 3;
  const paired = new Set<number>();
  const corners = (t: number): [number, number, number] => [triangles[t], triangles[t + 1], triangles[t + 2]];
  for (let t = 0; t < triangles.length; t += 3) {
    const c = corners(t);
    for (let k = 0; k < 3; k++) paired.add(c[k] * nodes + c[(k + 1) % 3]);
  }
  const out = new Float64Array(positions.length);
  const way = (i: number, j: number): number[] =>
    [0, 1, 2].map((c) => positions[3 * j + c] - positions[3 * i + c]);
  const cross = (a: readonly number[], b: readonly number[]): number[] =>
    [0, 1, 2].map((c) => a[(c + 1) % 3] * b[(c + 2) % 3] - a[(c + 2) % 3] * b[(c + 1) % 3]);
  for (let t = 0; t < triangles.length; t += 3) {
    const c = corners(t);
    const square = cross(way(c[0], c[1]), way(c[0], c[2]));
    const size = Math.hypot(...square) || 1;
    for (let k = 0; k < 3; k++) {
      const [i, j] = [c[k], c[(k + 1) % 3]];
      if (paired.has(j * nodes + i)) continue;
      // The longer an edge the more it counts.
      cross(way(i, j), square).forEach((x, d) => {
        out[3 * i + d] += x / size;
        out[3 * j + d] += x / size;
      });
    }
  }
  for (let i = 0; i < out.length; i += 3) {
    const l = Math.hypot(out[i], out[i + 1], out[i + 2]) || 1;
    for (let c = 0; c < 3; c++) out[i + c] /= l;
  }
  return out;
};

/**
 * How far each node lies outside (+) or inside (-) the wanted surface, m: along its outward normal, and at an open edge
 * also beyond the edge, whichever is more. Without the edges a straight tube could come out too short and be called right.
 */
export const differenceOf = (
  laid: Float64Array,
  wanted: Float64Array,
  triangles: Uint32Array,
): Float64Array => {
  const normals = new Float64Array(wanted.length);
  nodeNormals(wanted, triangles, normals);
  const edges = edgeNormals(wanted, triangles);
  const out = new Float64Array(wanted.length / 3);
  for (let n = 0; n < out.length; n++) {
    let beyond = 0;
    for (let i = 3 * n; i < 3 * n + 3; i++) {
      out[n] += normals[i] * (laid[i] - wanted[i]);
      beyond += edges[i] * (laid[i] - wanted[i]);
    }
    if (Math.abs(beyond) > Math.abs(out[n])) out[n] = beyond;
  }
  return out;
};

/** Greatest and root-mean-square size of the values of the nodes asked for. */
export const sizesOf = (
  values: Float64Array,
  counts: (node: number) => boolean,
): { readonly max_m: number; readonly rms_m: number } => {
  let [max, square, number] = [0, 0, 0];
  for (let n = 0; n < values.length; n++) {
    if (!counts(n)) continue;
    max = Math.max(max, Math.abs(values[n]));
    square += values[n] ** 2;
    number++;
  }
  return { max_m: max, rms_m: Math.sqrt(square / Math.max(1, number)) };
};
