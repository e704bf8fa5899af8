import { standOff } from '../../../kernel/shell/contact.ts';
import { nodeNormals } from '../../../kernel/shell/geometry.ts';
import { wallAtNodes } from '../../../kernel/shell/soft-shape.ts';
import { type FireWay, wallsOf } from './fired-way.ts';

/** Where a piece lies on the shelf, and what that keeps from being reached. */

type Walls = Pick<FireWay, 'triangles' | 'volume_m3' | 'skinShare'>;

/** Skin within this of the shelf lies on it, m: what contact leaves of a flat foot is half of it. */
const LIES_m = 5e-5;
/** Lifting nodes turns their normals a little: so often it is done again. */
const LIFTS = 3;

/** Gap between shelf and skin under each node, m. */
export const gapsOf = (walls: Walls, positions: Float64Array): Float64Array => {
  const normals = new Float64Array(positions.length);
  nodeNormals(positions, walls.triangles, normals);
  const wall = { positions, thickness_m: wallsOf(walls, positions), skinShare: walls.skinShare };
  const off = new Float64Array(positions.length / 3);
  standOff(normals, wallAtNodes(wall, walls.triangles), off);
  return off.map((o, n) => positions[3 * n + 2] - o);
};

/** 1 for each node that lies on the shelf. */
export const liesOf = (walls: Walls, positions: Float64Array): Uint8Array =>
  Uint8Array.from(gapsOf(walls, positions), (gap) => (gap < LIES_m ? 1 : 0));

/** Nothing can be set into the shelf: what lies deeper is brought up to it. */
export const outOfShelf = (walls: Walls, positions: Float64Array): Float64Array => {
  const out = positions.slice();
  for (let k = 0; k < LIFTS; k++) {
    const gaps = gapsOf(walls, out);
    for (let n = 0; n < gaps.length; n++) if (gaps[n] < 0) out[3 * n + 2] -= gaps[n];
  }
  return out;
};

/**
 * What keeps a piece on its side from sliding, turning and rolling (6 × nodes), as a wad on either side does: its highest node
 * and the two ends of where it lies may not move sideways, nor one of these along. Four pins for four rigid motions on which
 * nothing pulls: they take no load but the couple of a weight that would roll off, and bend nothing.
 */
export const pinsFor = (positions: Float64Array, lies: Uint8Array): Uint8Array => {
  const pins = new Uint8Array(2 * positions.length);
  let [top, first, last] = [0, -1, -1];
  for (let n = 0; n < lies.length; n++) {
    if (positions[3 * n + 2] > positions[3 * top + 2]) top = n;
    if (!lies[n]) continue;
    if (first < 0 || positions[3 * n] < positions[3 * first]) first = n;
    if (last < 0 || positions[3 * n] > positions[3 * last]) last = n;
  }
  pins[6 * top + 1] = 1;
  if (first >= 0) pins[6 * first] = pins[6 * first + 1] = pins[6 * last + 1] = 1;
  return pins;
};

/**
 * What belongs to where it lies, beyond the touching nodes: on its side a piece rests on a few spots, and their load presses a
 * dent that dies out over √(R·h) of the shell (S. Timoshenko, S. Woinowsky-Krieger, "Theory of Plates and Shells", ch. 15; from
 * memory). R is half its height as it lies. 1 for each node within that way of a touching one.
 */
export const spotsOf = (walls: Walls, positions: Float64Array, touching: Uint8Array): Uint8Array => {
  const thickness = wallAtNodes(
    { positions, thickness_m: wallsOf(walls, positions), skinShare: walls.skinShare },
    walls.triangles,
  );
  let high = 0;
  for (let i = 2; i < positions.length; i += 3) high = Math.max(high, positions[i]);
  const out = touching.slice();
  for (let m = 0; m < touching.length; m++) {
    if (!touching[m]) continue;
    const reach2 = 0.5 * high * thickness[m];
    for (let n = 0; n < out.length; n++) {
      const d = [0, 1, 2].map((c) => positions[3 * n + c] - positions[3 * m + c]);
      if (d[0] ** 2 + d[1] ** 2 + d[2] ** 2 < reach2) out[n] = 1;
    }
  }
  return out;
};
