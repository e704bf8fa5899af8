import type { Picture } from '../worker/film.ts';

/**
 * The wall as a solid: outside, inside, and the cut edges between them.
 * The edges have vertices of their own, so that a lip is lit as an edge and not as a smear.
 */
export interface Skin {
  readonly nodes: number;
  readonly triangles: Uint32Array;
  /** For each vertex of the solid the node it comes from. */
  readonly nodeOf: Uint32Array;
  /** For each vertex +1 outside, -1 inside. */
  readonly side: Int8Array;
  readonly index: Uint32Array;
  /** Ends of each open edge on the outside, two and two: the lip, and the foot of a tube. */
  readonly openEdges: Uint32Array;
}

/** Directed edges that no neighbour runs back along: the open edges of the mesh. */
const openEdges = (triangles: Uint32Array, nodes: number): [number, number][] => {
  const edges = new Map<number, [number, number]>();
  for (let t = 0; t < triangles.length; t += 3)
    for (let k = 0; k < 3; k++) {
      const a = triangles[t + k]!;
      const b = triangles[t + ((k + 1) % 3)]!;
      if (!edges.delete(b * nodes + a)) edges.set(a * nodes + b, [a, b]);
    }
  return [...edges.values()];
};

export const skinOf = (triangles: Uint32Array, nodes: number): Skin => {
  const open = openEdges(triangles, nodes);
  const ends = [...new Set(open.flat())];
  const edgeVertex = new Map(ends.map((node, i) => [node, 2 * nodes + 2 * i]));
  const vertices = 2 * (nodes + ends.length);
  const nodeOf = new Uint32Array(vertices);
  const side = new Int8Array(vertices);
  for (let i = 0; i < nodes; i++) {
    nodeOf[i] = nodeOf[nodes + i] = i;
    side[i] = 1;
    side[nodes + i] = -1;
  }
  for (const [node, at] of edgeVertex) {
    nodeOf[at] = nodeOf[at + 1] = node;
    side[at] = 1;
    side[at + 1] = -1;
  }
  const index = new Uint32Array(2 * triangles.length + 6 * open.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t]!, triangles[t + 1]!, triangles[t + 2]!];
    index.set([a, b, c], t);
    index.set([nodes + a, nodes + c, nodes + b], triangles.length + t);
  }
  open.forEach(([a, b], i) => {
    const p = edgeVertex.get(a)!;
    const q = edgeVertex.get(b)!;
    index.set([q, p, p + 1, q, p + 1, q + 1], 2 * triangles.length + 6 * i);
  });
  return { nodes, triangles, nodeOf, side, index, openEdges: Uint32Array.from(open.flat()) };
};

/** Sums of the triangles' normals at each node, then made unit. */
const nodeNormals = (positions: Float32Array, triangles: Uint32Array): Float32Array => {
  const normals = new Float32Array(positions.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t]!, 3 * triangles[t + 1]!, 3 * triangles[t + 2]!];
    const [ux, uy, uz] = [0, 1, 2].map((k) => positions[b + k]! - positions[a + k]!) as [
      number,
      number,
      number,
    ];
    const [vx, vy, vz] = [0, 1, 2].map((k) => positions[c + k]! - positions[a + k]!) as [
      number,
      number,
      number,
    ];
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx] as const;
    for (const at of [a, b, c]) for (let k = 0; k < 3; k++) normals[at + k]! += n[k]!;
  }
  for (let i = 0; i < normals.length; i += 3) {
    const length = Math.hypot(normals[i]!, normals[i + 1]!, normals[i + 2]!) || 1;
    for (let k = 0; k < 3; k++) normals[i + k]! /= length;
  }
  return normals;
};

/** Between two pictures of one film; `t` 0 is the first, 1 the second. */
export const between = (a: Float32Array, b: Float32Array, t: number): Float32Array =>
  t <= 0 ? a : t >= 1 ? b : a.map((x, i) => x + t * (b[i]! - x));

/** Writes the solid's vertices for a mid-surface and its wall, metres. */
export const layOut = (
  skin: Skin,
  { positions, thickness_m }: Pick<Picture, 'positions' | 'thickness_m'>,
  out: Float32Array,
): void => {
  const normals = nodeNormals(positions, skin.triangles);
  for (let v = 0; v < skin.nodeOf.length; v++) {
    const node = skin.nodeOf[v]!;
    const half = (skin.side[v]! * thickness_m[node]!) / 2;
    for (let k = 0; k < 3; k++) out[3 * v + k] = positions[3 * node + k]! + half * normals[3 * node + k]!;
  }
};
