import { type CutLine, sectionOf, type Vector } from '../../../kernel/mesh/cut.ts';
import type { Mesh } from '../../../kernel/mesh/mesh.ts';
import { type Prop, shapeOf } from './table.ts';

/** Props as bodies to look at: for pictures in three dimensions, for files that leave, for the cut in a drawing. */

const ROUND = 48;

type Outline = readonly (readonly [number, number])[];
type Place = (x: number, across: number, up: number) => void;
interface Body {
  readonly place: Place;
  readonly nodes: number[];
  readonly triangles: number[];
}

const quad = (t: number[], a: number, b: number, c: number, d: number): void => {
  t.push(a, b, c, a, c, d);
};

/** Turned round the upright axis; an outline that ends on the axis gets a bottom, one that does not closes on itself. */
const round = ({ nodes, triangles }: Body, outline: Outline, x0: number, y0: number): void => {
  const onAxis = outline[outline.length - 1][0] < 1e-9;
  const line: Outline = onAxis ? [[0, outline[0][1]], ...outline] : [...outline, outline[0]];
  for (let k = 0; k < ROUND; k++) {
    const angle = (2 * Math.PI * k) / ROUND;
    for (const [u, v] of line) nodes.push(x0 + u * Math.cos(angle), y0 + u * Math.sin(angle), v);
  }
  const n = line.length;
  for (let k = 0; k < ROUND; k++)
    for (let i = 0; i + 1 < n; i++) {
      const [here, next] = [k * n + i, ((k + 1) % ROUND) * n + i];
      if (line[i][0] >= 1e-9) triangles.push(here, next, line[i + 1][0] >= 1e-9 ? next + 1 : here + 1);
      if (line[i + 1][0] >= 1e-9) triangles.push(here, next + 1, here + 1);
    }
};

/** Drawn along x over its length, with ends and a bottom on the shelf. The outline runs one way across. */
const along = ({ place, triangles }: Body, outline: Outline, length_m: number): void => {
  const n = outline.length;
  for (const x of [-length_m / 2, length_m / 2]) {
    for (const [u, v] of outline) place(x, u, v);
    for (const [u] of outline) place(x, u, 0);
  }
  for (let i = 0; i + 1 < n; i++) {
    const [near, far] = [i, 2 * n + i];
    quad(triangles, near, near + 1, far + 1, far);
    quad(triangles, near + n, far + n, far + n + 1, near + n + 1);
    quad(triangles, near, near + n, near + n + 1, near + 1);
    quad(triangles, far, far + 1, far + n + 1, far + n);
  }
};

/** Without the triangles that have no extent. */
const cleaned = (positions: Float64Array, list: readonly number[]): Uint32Array => {
  const kept: number[] = [];
  for (let t = 0; t < list.length; t += 3) {
    const [a, b, c] = [3 * list[t], 3 * list[t + 1], 3 * list[t + 2]];
    const u = [0, 1, 2].map((k) => positions[b + k] - positions[a + k]);
    const v = [0, 1, 2].map((k) => positions[c + k] - positions[a + k]);
    const twice = Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
    if (twice > 1e-14) kept.push(list[t], list[t + 1], list[t + 2]);
  }
  return Uint32Array.from(kept);
};

/**
 * A prop as triangles that face out of it, metres, standing on z = 0.
 * @param reach_m how tall and wide to draw a wall: somewhat more than the piece
 * @param origin_m where the props' origin stands in the picture
 */
export const propMesh = (prop: Prop, reach_m: number, origin_m: readonly [number, number] = [0, 0]): Mesh => {
  const shape = shapeOf(prop);
  const outline = shape.outline(prop, reach_m);
  const { kind, x_m, y_m, length_m, turn_rad } = shape.sweep(prop, reach_m);
  const [x0, y0] = [x_m + origin_m[0], y_m + origin_m[1]];
  const [c, s] = [Math.cos(turn_rad), Math.sin(turn_rad)];
  const nodes: number[] = [];
  const body: Body = {
    nodes,
    triangles: [],
    place: (x, across, up) => nodes.push(x0 + c * x - s * across, y0 + s * x + c * across, up),
  };
  if (kind === 'round') round(body, outline, x0, y0);
  else along(body, outline, length_m);
  const positions = Float64Array.from(nodes);
  return { positions, triangles: cleaned(positions, body.triangles) };
};

/** The outline of a prop where a plane cuts it, for a drawing. */
export const propSection = (mesh: Mesh, point: Vector, normal: Vector): CutLine[] =>
  sectionOf({ ...mesh, thickness_m: new Float64Array(mesh.positions.length / 3) }, point, normal);
