import type { Depth } from './carving/relief.ts';
import type { Surface } from './surface.ts';

/** Where nodes stand on the wall: place on the section (mm) and angle; and how far up and down the line each one's share goes. */
export interface Place {
  readonly length: number;
  readonly angle_rad: number;
  readonly below: number;
  readonly above: number;
  /** How far round its share goes each way, rad. */
  readonly beside: number;
}

export interface Nodes {
  readonly positions: Float64Array;
  readonly thickness_m: Float64Array;
  readonly along: Float64Array;
  readonly angle_rad: Float64Array;
  readonly floor: Uint8Array;
}

const TURN = 2 * Math.PI;

/** Samples on each side of a node for its mean thickness. */
const SAMPLES = 6;
/** Samples across a node's share for its mean carved depth, each way. */
const ACROSS = 3;

export const emptyNodes = (count: number): Nodes => ({
  positions: new Float64Array(3 * count),
  thickness_m: new Float64Array(count),
  along: new Float64Array(count),
  angle_rad: new Float64Array(count),
  floor: new Uint8Array(count),
});

/**
 * Thickness a node stands for: the mean over its share of the line, weighted as the mesh will (linearly to
 * the neighbours). So the clay is right however coarse the mesh; a lip thinner than one row shows only partly.
 */
export const meanThickness = (surface: Surface, { length, below, above, angle_rad }: Place): number => {
  let [sum, weight] = [0, 0];
  for (const other of [below, above])
    for (let k = 0; k < SAMPLES; k++) {
      const share = (k + 0.5) / SAMPLES;
      const w = Math.abs(other - length) * (1 - share);
      sum += w * surface.thickness(length + share * (other - length), angle_rad);
      weight += w;
    }
  return sum / weight;
};

/** Carved depth a node stands for, weighted likewise up, down and round. */
const meanDepth = (depth: Depth, { length, below, above, angle_rad, beside }: Place): number => {
  let [sum, weight] = [0, 0];
  for (let i = -ACROSS; i <= ACROSS; i++) {
    const up = i / (ACROSS + 1);
    const step = up < 0 ? length - below : above - length;
    for (let k = -ACROSS; k <= ACROSS; k++) {
      const round = k / (ACROSS + 1);
      const w = (step || 1e-9) * (1 - Math.abs(up)) * (1 - Math.abs(round));
      sum += w * depth.at(length + up * step, angle_rad + round * beside);
      weight += w;
    }
  }
  return sum / weight;
};

/** Half a step for the normal, mm. */
const STEP = 0.05;

/** Writes the unit normal of the altered surface, out of the pot, at a place of it. */
export const outward = (surface: Surface, length: number, angle_rad: number, out: Float64Array): void => {
  const around = new Float64Array(12);
  const turn = STEP / Math.max(1, surface.radius(length));
  surface.at(Math.max(0, length - STEP), angle_rad, around, 0);
  surface.at(Math.min(surface.total, length + STEP), angle_rad, around, 3);
  surface.at(length, angle_rad - turn, around, 6);
  surface.at(length, angle_rad + turn, around, 9);
  const [ux, uy, uz, rx, ry, rz] = [0, 1, 2, 6, 7, 8].map((k) => around[k + 3] - around[k]);
  const [nx, ny, nz] = [ry * uz - rz * uy, rz * ux - rx * uz, rx * uy - ry * ux];
  const size = Math.hypot(nx, ny, nz) || 1;
  out[0] = nx / size;
  out[1] = ny / size;
  out[2] = nz / size;
};

/** Carving the outside moves the middle of the wall in by half the depth, at right angles to the surface. */
const carve = (surface: Surface, depth: number, place: Place, nodes: Nodes, n: number): void => {
  const out = new Float64Array(3);
  outward(surface, place.length, place.angle_rad, out);
  for (let j = 0; j < 3; j++) nodes.positions[3 * n + j] -= 0.5 * depth * out[j];
  nodes.thickness_m[n] -= depth;
};

/** Puts node n where it stands, in mm. */
export const placeNode = (
  surface: Surface,
  place: Place,
  thickness_mm: number,
  depth: Depth | undefined,
  nodes: Nodes,
  n: number,
): void => {
  surface.at(place.length, place.angle_rad, nodes.positions, 3 * n);
  nodes.thickness_m[n] = thickness_mm;
  nodes.along[n] = place.length / surface.total;
  nodes.angle_rad[n] = ((place.angle_rad % TURN) + TURN) % TURN;
  nodes.floor[n] = place.length < surface.section.wallFrom - 1e-9 ? 1 : 0;
  if (!depth || place.above < depth.from || place.below > depth.to) return;
  const carved = meanDepth(depth, place);
  if (carved > 0) carve(surface, carved, place, nodes, n);
};
