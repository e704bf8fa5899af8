import { boundaryLoops } from './edges.ts';
import { halfWalls } from './half-walls.ts';
import type { Mesh, WallMesh } from './mesh.ts';

/** The wall as a closed body: outer face, inner face, and a band along every rim. Metres; triangles face out of the clay. */
export const solidOf = (wall: WallMesh): Mesh => {
  const nodes = wall.thickness_m.length;
  const half = halfWalls(wall);
  const positions = new Float64Array(6 * nodes);
  for (let i = 0; i < 3 * nodes; i++) {
    positions[i] = wall.positions[i] + half[i];
    positions[3 * nodes + i] = wall.positions[i] - half[i];
  }
  const t = wall.triangles;
  const triangles: number[] = Array.from(t);
  for (let i = 0; i < t.length; i += 3) triangles.push(t[i] + nodes, t[i + 2] + nodes, t[i + 1] + nodes);
  for (const loop of boundaryLoops(t, nodes))
    loop.forEach((a, k) => {
      const b = loop[(k + 1) % loop.length];
      triangles.push(b, a, b + nodes, a, a + nodes, b + nodes);
    });
  return { positions, triangles: Uint32Array.from(triangles) };
};
