import { nodeNormals } from '../../kernel/shell/geometry.ts';
import type { Frame } from './firing.ts';
import { distanceAt } from './props/obstacles.ts';
import type { Distance } from './props/prop.ts';
import type { Prop } from './props/table.ts';
import { shelf } from './set-on-props.ts';

/**
 * Pictures between two steps. Of a piece on props while it shrinks and is not soft yet: the creep clock stands still then,
 * so between two of its steps a picture knows of the shrinking but not that kiln furniture keeps its height: drawn as it
 * comes, a piece sinks into a ring setter by half a millimetre. Such a picture is lifted straight up, whole, until clear.
 */

/** Only what bears from below lifts: a prop facing up at least this much. */
const BEARING = 0.3;
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

/** How deep each node lies in shelf and props at true size, m, and how far that support faces up. */
const lookInto = (frame: Frame, stood: Stood, see: (deep_m: number, up: number) => void): void => {
  const { positions: p, thickness_m, linearScale: L } = frame;
  const normals = new Float64Array(p.length);
  nodeNormals(p, stood.triangles, normals);
  const here = new Float64Array(4);
  const into = (distance: Distance, s: number): void => {
    for (let i = 0; i < p.length; i += 3) {
      distance(p[i] / s, p[i + 1] / s, p[i + 2] / s, here);
      const across = here[0] * normals[i] + here[1] * normals[i + 1] + here[2] * normals[i + 2];
      see(0.5 * thickness_m[i / 3] * Math.abs(across) - s * here[3], here[2]);
    }
  };
  into(shelf, 1);
  for (const prop of stood.props) into(distanceAt(prop, stood.origin_m), prop.shrinks ? L : 1);
};

/** The positions themselves where nothing lies in a prop or the shelf, else a copy lifted clear, whole. */
export const lifted = (frame: Frame, stood: Stood): Float64Array => {
  const { positions } = frame;
  let lift = 0;
  lookInto(frame, stood, (deep, up) => {
    if (up >= BEARING) lift = Math.max(lift, deep / up);
  });
  return lift < UNSEEN_m ? positions : positions.map((x, i) => (i % 3 === 2 ? x + lift : x));
};

/** Whether any picture shows the piece in what it stands on or leans on. */
export const showsItInside = (frames: readonly Frame[], stood: Stood): boolean =>
  frames.some((frame) => {
    let most = 0;
    lookInto(frame, stood, (deep) => {
      most = Math.max(most, deep);
    });
    return most > SEEN_m;
  });
