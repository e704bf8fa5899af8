import { halfWalls } from '../../kernel/mesh/half-walls.ts';
import { toNodes, triangleAreas } from '../../kernel/shell/geometry.ts';
import type { OnShelf } from '../firing/how-sure.ts';
import { mostDrop } from '../firing/moved.ts';
import { turnBack } from '../firing/set-down.ts';
import { measure } from '../form/measure.ts';

/**
 * What a rule, callipers and a photograph would find on a shape, by name, in fired mm:
 * `height`, `widest`, `lip greatest`, `lip least`, `lip mean`, `lip oval` (greatest less least), `drop greatest`,
 * `drop mean`, `drop at 90` (degrees), `lean x`, `lean y`, `outline top`, `outline at 120` (width at that height, mm).
 */
export interface Wish {
  readonly keys: readonly string[];
  /** From which side the outline is seen. */
  readonly from_deg: number;
}

const DIRECTIONS = 90;
const AROUND = 36;

/** Greatest and least distance of two parallel level jaws about these nodes, m. */
const jaws = (p: Float64Array, nodes: ArrayLike<number>): { greatest: number; least: number } => {
  let greatest = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let d = 0; d < DIRECTIONS; d++) {
    const [c, s] = [Math.cos((Math.PI * d) / DIRECTIONS), Math.sin((Math.PI * d) / DIRECTIONS)];
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let k = 0; k < nodes.length; k++) {
      const x = c * p[3 * nodes[k]] + s * p[3 * nodes[k] + 1];
      low = Math.min(low, x);
      high = Math.max(high, x);
    }
    greatest = Math.max(greatest, high - low);
    least = Math.min(least, high - low);
  }
  return { greatest, least };
};

/** A value of the lip's nodes at an angle about the axis as drawn, straight between neighbours. */
const atAngle = (
  { lipNodes, angle_rad }: Pick<OnShelf['mesh'], 'lipNodes' | 'angle_rad'>,
  value: (node: number) => number,
  angle: number,
): number => {
  const turn = 2 * Math.PI;
  const a = ((angle % turn) + turn) % turn;
  const n = lipNodes.length;
  const next = lipNodes.findIndex((node) => angle_rad[node] >= a);
  const j = Math.max(0, next);
  const i = (j + n - 1) % n;
  const from = angle_rad[lipNodes[i]] - (j === 0 && a < angle_rad[lipNodes[i]] ? turn : 0);
  const to = angle_rad[lipNodes[j]] + (j === 0 && a >= angle_rad[lipNodes[i]] ? turn : 0);
  const share = to > from ? (a - from) / (to - from) : 0;
  return (1 - share) * value(lipNodes[i]) + share * value(lipNodes[j]);
};

const meanAt = (p: Float64Array, nodes: ArrayLike<number>, c: number): number => {
  let sum = 0;
  for (let k = 0; k < nodes.length; k++) sum += p[3 * nodes[k] + c];
  return sum / nodes.length;
};

/** Width of the silhouette of some skins, each over the same triangles, at a height; 0 where there is nothing. */
const silhouetteWidth = (
  skins: readonly Float64Array[],
  triangles: Uint32Array,
  across: readonly [number, number],
  z: number,
): number => {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const p of skins)
    for (let t = 0; t < triangles.length; t++) {
      const i = 3 * triangles[t];
      const j = 3 * triangles[t % 3 === 2 ? t - 2 : t + 1];
      const [zi, zj] = [p[i + 2], p[j + 2]];
      if (zi < z === zj < z) continue;
      const s = (z - zi) / (zj - zi);
      const x =
        (1 - s) * (across[0] * p[i] + across[1] * p[i + 1]) + s * (across[0] * p[j] + across[1] * p[j + 1]);
      low = Math.min(low, x);
      high = Math.max(high, x);
    }
  return high > low ? high - low : 0;
};

/**
 * @param scale fired length against bone dry
 * @param positions as it stands in the kiln, bone-dry lengths, 3 × nodes, m
 * @param wall of each triangle, bone-dry lengths, m
 */
export const measuresOf = (
  { mesh, down }: OnShelf,
  positions: Float64Array,
  wall: Float64Array,
  scale: number,
  wish: Wish,
): Record<string, number> => {
  const areas = new Float64Array(wall.length);
  triangleAreas(positions, mesh.triangles, areas);
  const thickness_m = toNodes(wall, areas, mesh.triangles, positions.length / 3).map((h) => scale * h);
  const fired = positions.map((x) => scale * x);
  const upright = { ...mesh, positions: turnBack(fired, down.turn), thickness_m };
  const lipWall = mesh.lipNodes.reduce((sum, n) => sum + thickness_m[n], 0) / mesh.lipNodes.length;
  const whole = measure(upright, 1);
  const lip = jaws(upright.positions, mesh.lipNodes);
  const dropOf = (node: number): number => scale * down.shrunkOnly[3 * node + 2] - fired[3 * node + 2];
  const around = (f: (angle: number) => number): number => {
    let sum = 0;
    for (let k = 0; k < AROUND; k++) sum += f((2 * Math.PI * k) / AROUND);
    return sum / AROUND;
  };
  let skins: Float64Array[] | undefined;
  const skin = (): Float64Array[] => {
    if (skins) return skins;
    const half = halfWalls({ positions: fired, triangles: mesh.triangles, thickness_m });
    skins = [fired.map((x, i) => x + half[i]), fired.map((x, i) => x - half[i])];
    return skins;
  };
  const a = (wish.from_deg * Math.PI) / 180;
  const top = (): number =>
    Math.max(...skin().map((p) => p.reduce((m, x, i) => (i % 3 === 2 && x > m ? x : m), 0)));
  const middle = (c: number): number =>
    meanAt(fired, mesh.lipNodes, c) -
    meanAt(fired, mesh.footNodes, c) -
    scale * (meanAt(down.shrunkOnly, mesh.lipNodes, c) - meanAt(down.shrunkOnly, mesh.footNodes, c));
  const one = (key: string): number => {
    const number = Number(/ at (-?[\d.]+)$/.exec(key)?.[1]);
    if (key.startsWith('drop at ')) return atAngle(mesh, dropOf, (number * Math.PI) / 180);
    if (key.startsWith('outline at '))
      return silhouetteWidth(skin(), mesh.triangles, [-Math.sin(a), Math.cos(a)], number / 1000);
    switch (key) {
      case 'height':
        return whole.height_m;
      case 'widest':
        return whole.widest_m;
      case 'lip greatest':
        return lip.greatest + lipWall;
      case 'lip least':
        return lip.least + lipWall;
      case 'lip mean':
        return (lip.greatest + lip.least) / 2 + lipWall;
      case 'lip oval':
        return lip.greatest - lip.least;
      case 'drop greatest':
        return mostDrop(mesh.lipNodes, down.shrunkOnly, fired, scale);
      case 'drop mean':
        return around((angle) => atAngle(mesh, dropOf, angle));
      case 'lean x':
        return middle(0);
      case 'lean y':
        return middle(1);
      case 'outline top':
        return top();
      default:
        throw new RangeError(`no measure of the name ${key}`);
    }
  };
  return Object.fromEntries(wish.keys.map((key) => [key, 1000 * one(key)]));
};

/** Height (fired mm, unsagged) of what a drop is measured at: sizes off by a share show as that much of it. */
export const leverOf = (key: string, { mesh, down }: OnShelf, scale: number): number =>
  key.startsWith('drop') ? 1000 * scale * meanAt(down.shrunkOnly, mesh.lipNodes, 2) : 0;
