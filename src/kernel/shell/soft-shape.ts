import type { Grip } from './contact.ts';
import { nodeNormals, toNodes, triangleAreas } from './geometry.ts';

/** A soft wall at one moment. All arrays are owned by the caller and changed in place by the stepper. */
export interface SoftShape {
  /** 3 × nodes, m. */
  readonly positions: Float64Array;
  /** Wall of each triangle, m. */
  readonly thickness_m: Float64Array;
  /** Weight-giving mass of each triangle, kg; it never changes. */
  readonly mass_kg: Float64Array;
  /** Each node's own wall against the mean around it (`skinShareOf`); left out: it is that mean. */
  readonly skinShare?: Float64Array | undefined;
}

/**
 * What each node's own wall is against the mean of the triangles around it. A ring or edge thicker than its
 * neighbours is thinned by such means: a foot ring of 7.4 mm seemed 6.6, and the piece dropped by 0.4 mm before it
 * "stood". The share stays with the node as the wall creeps.
 */
export const skinShareOf = (
  own_m: Float64Array,
  positions: Float64Array,
  triangles: Uint32Array,
): Float64Array => {
  const areas = new Float64Array(triangles.length / 3);
  triangleAreas(positions, triangles, areas);
  const mean = toNodes(ofCorners(triangles, own_m), areas, triangles, own_m.length);
  return own_m.map((h, n) => h / mean[n]);
};

/** Value of each triangle from those of its corners. */
export const ofCorners = (triangles: Uint32Array, values: Float64Array): Float64Array => {
  const out = new Float64Array(triangles.length / 3);
  for (let t = 0; t < out.length; t++)
    out[t] = (values[triangles[3 * t]] + values[triangles[3 * t + 1]] + values[triangles[3 * t + 2]]) / 3;
  return out;
};

/** Wall at each node, m, from that of each triangle. */
export const wallAtNodes = (
  wall: Pick<SoftShape, 'positions' | 'thickness_m' | 'skinShare'>,
  triangles: Uint32Array,
): Float64Array => {
  const { positions, thickness_m, skinShare } = wall;
  const areas = new Float64Array(thickness_m.length);
  triangleAreas(positions, triangles, areas);
  const mean = toNodes(thickness_m, areas, triangles, positions.length / 3);
  return skinShare ? mean.map((h, n) => h * skinShare[n]) : mean;
};

/** What acts on the wall at one moment. */
export interface RateLaw {
  /** Shear viscosity of each triangle or of all, Pa·s. */
  readonly viscosity_Pa_s: number | Float64Array;
  /** Viscous Poisson ratio: ½ for a dense body, less while it is porous. */
  readonly poisson: number;
  /** Downward pull, m/s². */
  readonly gravity_m_s2: number;
  /** Pressure on the inside, pushing along the outward normals, Pa. */
  readonly pressure_Pa: number;
  /** What holds sideways on the shelf; friction, where there is any, takes its place. */
  readonly shelf: Grip | 'none';
  /** Unknowns held at zero speed, 6 × nodes (symmetry, clamps); empty array for none. */
  readonly held: Uint8Array;
  /** Part of the load's energy norm a solution may leave. */
  readonly residual: number;
}

/** The wall as contact sees it: unit normals (3 × nodes) and the wall at the nodes, m. */
export const skinOf = (
  shape: SoftShape,
  triangles: Uint32Array,
): { positions: Float64Array; normals: Float64Array; wall_m: Float64Array } => {
  const normals = new Float64Array(shape.positions.length);
  nodeNormals(shape.positions, triangles, normals);
  return { positions: shape.positions, normals, wall_m: wallAtNodes(shape, triangles) };
};
