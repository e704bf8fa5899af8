import type { CutLine, Vector } from '../../kernel/mesh/cut.ts';
import type { Mesh } from '../../kernel/mesh/mesh.ts';
import { propMesh, propSection } from '../../making/firing/props/prop-mesh.ts';
import type { Setting } from '../../making/firing/setting.ts';
import type { Plane } from './section.ts';
import type { Flat } from './svg.ts';

/** A prop as a plane sees it. */
export interface PropLines {
  /** Closed outlines. */
  readonly lines: readonly Flat[];
  /** The plane misses it: seen behind or before the cut. */
  readonly beyond: boolean;
  readonly bad: boolean;
}

/**
 * The props of a setting as bodies at one moment.
 * @param at_m where their origin stands
 * @param scale linear size of the piece against bone dry: what is of the same clay shrinks with it
 * @param reach_m size of the piece: a wall to lean on is drawn somewhat taller
 */
export const propBodies = (
  { props }: Setting,
  at_m: readonly [number, number],
  scale: number,
  reach_m: number,
): Mesh[] =>
  props.map((prop) => {
    const mesh = propMesh(prop, (1.1 * reach_m) / (prop.shrinks ? scale : 1), at_m);
    return prop.shrinks ? { ...mesh, positions: mesh.positions.map((x) => x * scale) } : mesh;
  });

const middleOf = ({ positions }: Mesh): Vector => {
  const sum = [0, 0, 0];
  positions.forEach((x, i) => {
    sum[i % 3] += (3 * x) / positions.length;
  });
  return [sum[0], sum[1], sum[2]];
};

/** A cut through the very axis of a round prop falls into two halves; so far beside it, it is one outline, m. */
const BESIDE_m = 1e-5;

/** Cuts each prop by the plane, or, where that misses it, by the parallel plane through its own middle. */
export const propLines = (
  bodies: readonly Mesh[],
  plane: Plane,
  bad: (prop: number) => boolean = () => false,
): PropLines[] => {
  const [cos, sin] = [Math.cos(plane.along_rad), Math.sin(plane.along_rad)];
  const normal: Vector = [-sin, cos, 0];
  const flat = ({ points }: CutLine): Flat =>
    Array.from(
      { length: points.length / 3 },
      (_, i) =>
        [
          (points[3 * i] - plane.x0_m) * cos + (points[3 * i + 1] - plane.y0_m) * sin,
          points[3 * i + 2],
        ] as const,
    );
  return bodies.map((body, i) => {
    const through = ([x, y, z]: Vector): CutLine[] =>
      propSection(body, [x + BESIDE_m * normal[0], y + BESIDE_m * normal[1], z], normal);
    const cut = through([plane.x0_m, plane.y0_m, 0]);
    const lines = cut.length > 0 ? cut : through(middleOf(body));
    return { lines: lines.map(flat), beyond: cut.length === 0, bad: bad(i) };
  });
};
