import { nodeNormals } from '../../kernel/shell/geometry.ts';
import type { Frame } from './firing.ts';
import { distanceAt } from './props/obstacles.ts';
import type { Distance } from './props/prop.ts';
import type { Prop } from './props/table.ts';
import { shelf } from './set-on-props.ts';

/**
 * Pictures between two steps. Of a piece on props while it shrinks and is not soft yet: the creep clock stands still then,
 * so between two of its steps a picture knows of the shrinking but not that kiln furniture keeps its height: drawn as it
 * comes, a piece sinks into a ring setter by half a millimetre. Such a picture is moved, whole, until clear.
 */

/** What faces up at least this much lifts; what is steeper, a wall to lean on, pushes away. */
const BEARING = 0.3;
/** Moved clear of one support it may meet another. */
const MOST_MOVES = 4;
/** Less than this is what contact leaves in any shape, m, and cannot be seen. */
const UNSEEN_m = 5e-5;
/** This much is seen. */
const SEEN_m = 1e-4;

interface Stood {
  readonly triangles: Uint32Array;
  readonly props: readonly Prop[];
  /** Where the props' origin stands, m. */
  readonly origin_m: readonly [number, number];
}

/** The deepest place: how deep it lies in shelf or props at true size, m, and the normal of what it lies in. */
interface Deepest {
  readonly deep_m: number;
  readonly normal: readonly [number, number, number];
}

const deepestIn = (frame: Frame, stood: Stood): Deepest => {
  const { positions: p, thickness_m, linearScale: L } = frame;
  const normals = new Float64Array(p.length);
  nodeNormals(p, stood.triangles, normals);
  const here = new Float64Array(4);
  let found: Deepest = { deep_m: 0, normal: [0, 0, 1] };
  const into = (distance: Distance, s: number): void => {
    for (let i = 0; i < p.length; i += 3) {
      distance(p[i] / s, p[i + 1] / s, p[i + 2] / s, here);
      const across = here[0] * normals[i] + here[1] * normals[i + 1] + here[2] * normals[i + 2];
      const deep_m = 0.5 * thickness_m[i / 3] * Math.abs(across) - s * here[3];
      if (deep_m > found.deep_m) found = { deep_m, normal: [here[0], here[1], here[2]] };
    }
  };
  into(shelf, 1);
  for (const prop of stood.props) into(distanceAt(prop, stood.origin_m), prop.shrinks ? L : 1);
  return found;
};

/** The positions themselves where nothing lies in a prop or the shelf, else a copy moved clear, whole. */
export const lifted = (frame: Frame, stood: Stood): Float64Array => {
  let clear = frame;
  for (let k = 0; k < MOST_MOVES; k++) {
    const { deep_m, normal } = deepestIn(clear, stood);
    if (deep_m < UNSEEN_m) break;
    const [x, y, z] = normal;
    const way = z >= BEARING ? [0, 0, deep_m / z] : [deep_m * x, deep_m * y, deep_m * z];
    clear = { ...clear, positions: clear.positions.map((q, i) => q + way[i % 3]) };
  }
  return clear.positions;
};

/** Whether any picture shows the piece in what it stands on or leans on. */
export const showsItInside = (frames: readonly Frame[], stood: Stood): boolean =>
  frames.some((frame) => deepestIn(frame, stood).deep_m > SEEN_m);
