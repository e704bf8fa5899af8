import type { Mesh, WallMesh } from '../../kernel/mesh/mesh.ts';

/** At a sharp corner of the mid-surface the mitre grows without end; it is cut off here. */
const LONGEST_MITRE = 1.5;

const corner = (p: Float64Array, a: number, b: number, c: number): { normal: number[]; angle: number } => {
  const e = [0, 1, 2].map((k) => p[3 * b + k] - p[3 * a + k]);
  const f = [0, 1, 2].map((k) => p[3 * c + k] - p[3 * a + k]);
  const normal = [e[1] * f[2] - e[2] * f[1], e[2] * f[0] - e[0] * f[2], e[0] * f[1] - e[1] * f[0]];
  const length = Math.hypot(...normal) || 1;
  const dot = e[0] * f[0] + e[1] * f[1] + e[2] * f[2];
  return { normal: normal.map((x) => x / length), angle: Math.atan2(length, dot) };
};

/**
 * Half-wall vector at each node, from the mid-surface outwards: along the angle-weighted normal, mitred so that
 * the flat triangles around keep their thickness at right angles to themselves.
 */
const halfWalls = ({ positions, triangles, thickness_m }: WallMesh): Float64Array => {
  const sum = new Float64Array(positions.length);
  const angles = new Float64Array(thickness_m.length);
  for (let i = 0; i < triangles.length; i += 3)
    for (let k = 0; k < 3; k++) {
      const [a, b, c] = [0, 1, 2].map((j) => triangles[i + ((k + j) % 3)]) as [number, number, number];
      const { normal, angle } = corner(positions, a, b, c);
      for (let j = 0; j < 3; j++) sum[3 * a + j] += normal[j] * angle;
      angles[a] += angle;
    }
  for (let n = 0; n < angles.length; n++) {
    const length = Math.hypot(sum[3 * n], sum[3 * n + 1], sum[3 * n + 2]) || 1;
    // |Σ angle·n| / Σ angle is the mean cosine between the node's normal and its triangles'.
    const mitre = Math.min(angles[n] / length, LONGEST_MITRE);
    for (let j = 0; j < 3; j++) sum[3 * n + j] = (sum[3 * n + j] / length) * mitre * (thickness_m[n] / 2);
  }
  return sum;
};

/** Directed edges that only one triangle has: the open rim of the wall. */
const rimEdges = (triangles: Uint32Array, nodes: number): [number, number][] => {
  const edges = new Set<number>();
  const each = (visit: (a: number, b: number) => void): void => {
    for (let i = 0; i < triangles.length; i += 3)
      for (let k = 0; k < 3; k++) visit(triangles[i + k], triangles[i + ((k + 1) % 3)]);
  };
  each((a, b) => edges.add(a * nodes + b));
  const rim: [number, number][] = [];
  each((a, b) => {
    if (!edges.has(b * nodes + a)) rim.push([a, b]);
  });
  return rim;
};

/** The wall as a closed body: its outer face, its inner face, and a band along every rim. Metres; normals outwards. */
export const solidOf = (wall: WallMesh): Mesh => {
  const nodes = wall.thickness_m.length;
  const half = halfWalls(wall);
  const positions = new Float64Array(6 * nodes);
  for (let i = 0; i < 3 * nodes; i++) {
    positions[i] = wall.positions[i] + half[i];
    positions[3 * nodes + i] = wall.positions[i] - half[i];
  }
  const t = wall.triangles;
  const triangles: number[] = [...t];
  for (let i = 0; i < t.length; i += 3) triangles.push(t[i] + nodes, t[i + 2] + nodes, t[i + 1] + nodes);
  for (const [a, b] of rimEdges(t, nodes)) triangles.push(b, a, b + nodes, a, a + nodes, b + nodes);
  return { positions, triangles: Uint32Array.from(triangles) };
};

/** Volume enclosed by a closed mesh, cubic metres, by the divergence theorem (a sum of signed tetrahedra). */
export const enclosedVolume_m3 = ({ positions: p, triangles }: Mesh): number => {
  let six = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [3 * triangles[i], 3 * triangles[i + 1], 3 * triangles[i + 2]];
    six +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) -
      p[a + 1] * (p[b] * p[c + 2] - p[b + 2] * p[c]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return six / 6;
};
