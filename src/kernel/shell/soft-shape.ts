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
}

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

/** The wall as contact sees it: unit normals (3 × nodes) and the wall averaged to the nodes, m. */
export const skinOf = (
  shape: SoftShape,
  triangles: Uint32Array,
): { positions: Float64Array; normals: Float64Array; wall_m: Float64Array } => {
  const nodes = shape.positions.length / 3;
  const areas = new Float64Array(shape.thickness_m.length);
  triangleAreas(shape.positions, triangles, areas);
  const normals = new Float64Array(3 * nodes);
  nodeNormals(shape.positions, triangles, normals);
  return {
    positions: shape.positions,
    normals,
    wall_m: toNodes(shape.thickness_m, areas, triangles, nodes),
  };
};
