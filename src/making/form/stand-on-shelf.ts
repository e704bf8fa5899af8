import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { nodeNormals } from '../../kernel/shell/geometry.ts';

/** Nodes of a ring this near one another in height (m per m of the piece's size) are meant to be level. */
const LEVEL = 1e-6;

/** Height of half a wall at each node of a ring over its mid-surface, m. */
const halfUp = (wall: WallMesh, normals: Float64Array, ring: Uint32Array): Float64Array =>
  Float64Array.from(ring, (n) => 0.5 * wall.thickness_m[n] * Math.abs(normals[3 * n + 2]));

/**
 * Brings mm to metres with the scale, makes the skin of level rings (a foot, an uncut lip) level to the last digit,
 * and puts the lowest skin on z = 0; all in place. Levelling moves nodes by microns: normals differ a little from
 * node to node with the pattern of the triangles, and a piece should stand on all of its ring.
 * @param rings each ring's nodes, the foot first if there is one to level
 */
export const standOnShelf = (wall: WallMesh, rings: readonly Uint32Array[], scale: number): void => {
  const { positions: p, thickness_m: t, triangles } = wall;
  for (let i = 0; i < p.length; i++) p[i] *= scale / 1000;
  for (let i = 0; i < t.length; i++) t[i] *= scale / 1000;
  const size = p.reduce((a, x) => Math.max(a, Math.abs(x)), 0);
  const heights = (ring: Uint32Array) => Float64Array.from(ring, (n) => p[3 * n + 2]);
  const level = rings.filter((ring) => {
    const z = heights(ring);
    return Math.max(...z) - Math.min(...z) < LEVEL * size;
  });
  const normals = new Float64Array(p.length);
  for (let round = 0; round < 4; round++) {
    nodeNormals(p, triangles, normals);
    for (const ring of level) {
      // A ring below its neighbours stands on its lower skin, a lip on its upper one; either way half a wall out.
      const half = halfUp(wall, normals, ring);
      const way = ring === rings[rings.length - 1] ? 1 : -1;
      const skin = heights(ring).map((z, k) => z + way * half[k]);
      const mean = skin.reduce((a, b) => a + b, 0) / skin.length;
      ring.forEach((n, k) => {
        p[3 * n + 2] -= skin[k] - mean;
      });
    }
  }
  nodeNormals(p, triangles, normals);
  let low = Number.POSITIVE_INFINITY;
  for (let n = 0; n < t.length; n++)
    low = Math.min(low, p[3 * n + 2] - 0.5 * t[n] * Math.abs(normals[3 * n + 2]));
  for (let n = 0; n < t.length; n++) p[3 * n + 2] -= low;
};
