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

/** How far each node lies outside (+) or inside (-) the wanted surface, along its outward normal, m. */
export const differenceOf = (
  laid: Float64Array,
  wanted: Float64Array,
  triangles: Uint32Array,
): Float64Array => {
  const normals = new Float64Array(wanted.length);
  nodeNormals(wanted, triangles, normals);
  const out = new Float64Array(wanted.length / 3);
  for (let i = 0; i < wanted.length; i++) out[(i / 3) | 0] += normals[i] * (laid[i] - wanted[i]);
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
