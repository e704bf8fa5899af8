/** A triangle mesh as flat arrays; the value every stage of the work passes on. */
export interface Mesh {
  /** x, y, z of each node in metres, z up; length 3 × nodes. */
  readonly positions: Float64Array;
  /** Three node numbers a triangle, counter-clockwise seen from OUTSIDE the wall; length 3 × triangles. */
  readonly triangles: Uint32Array;
}

/** A wall drawn as its mid-surface: a mesh and how thick the wall is at each node. */
export interface WallMesh extends Mesh {
  /** Wall thickness at each node in metres, measured at right angles to the mid-surface. */
  readonly thickness_m: Float64Array;
}
