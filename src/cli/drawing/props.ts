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

/** Ends nearer than this are one point, m. */
const SAME_m = 1e-4;

const meets = (a: readonly [number, number], b: readonly [number, number]): boolean =>
  Math.hypot(a[0] - b[0], a[1] - b[1]) < SAME_m;

/** A cut through the axis of a round prop falls into runs that end there: put together end to end. */
const joined = (runs: readonly Flat[]): Flat[] => {
  const whole: Flat[] = [];
  for (const run of runs) {
    let line = run;
    for (let again = true; again; ) {
      const k = whole.findIndex((w) =>
        [w[0], w[w.length - 1]].some((p) => meets(p, line[0]) || meets(p, line[line.length - 1])),
      );
      again = k >= 0;
      if (!again) break;
      const [other] = whole.splice(k, 1);
      const turned = meets(other[0], line[0]) || meets(other[other.length - 1], line[line.length - 1]);
      const next = turned ? [...line].reverse() : line;
      line = meets(other[other.length - 1], next[0]) ? [...other, ...next] : [...next, ...other];
    }
    whole.push(line);
  }
  return whole;
};

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
    const cut = propSection(body, [plane.x0_m, plane.y0_m, 0], normal);
    const lines = cut.length > 0 ? cut : propSection(body, middleOf(body), normal);
    const closed = lines.filter((line) => line.closed).map(flat);
    const open = joined(lines.filter((line) => !line.closed).map(flat));
    return { lines: [...closed, ...open], beyond: cut.length === 0, bad: bad(i) };
  });
};
