/**
 * Fill-reducing order by geometric nested dissection: cut the cloud of nodes in two by a plane, put the
 * nodes along the cut last, repeat in both halves (A. George, SIAM J. Numer. Anal. 10 (1973) 345-363).
 * On shell meshes it fills as little as minimum degree and gives a balanced tree for free.
 */
export interface Dissection {
  /** order[k] = the node eliminated k-th. */
  readonly order: Int32Array;
  /** Part s holds eliminated positions partStart[s] .. partStart[s + 1] - 1; parts stand in post-order. */
  readonly partStart: Int32Array;
  /** Parent part of each part, -1 at the root. */
  readonly parent: Int32Array;
}

/** Neighbours of node i: adjacency[start[i] .. start[i + 1]). */
export interface Graph {
  readonly start: Int32Array;
  readonly adjacency: Int32Array;
}

/** Node-to-node graph of a triangle mesh (each neighbour once, in rising order). */
export const graphOfTriangles = (nodes: number, triangles: Uint32Array): Graph => {
  const degree = new Int32Array(nodes + 1);
  for (const n of triangles) degree[n + 1] += 2;
  for (let i = 0; i < nodes; i++) degree[i + 1] += degree[i];
  const fill = degree.slice(0, nodes);
  const raw = new Int32Array(degree[nodes]);
  for (let t = 0; t < triangles.length; t += 3)
    for (let c = 0; c < 3; c++) {
      const a = triangles[t + c];
      raw[fill[a]++] = triangles[t + ((c + 1) % 3)];
      raw[fill[a]++] = triangles[t + ((c + 2) % 3)];
    }
  const start = new Int32Array(nodes + 1);
  let out = 0;
  for (let i = 0; i < nodes; i++) {
    const mine = raw.subarray(degree[i], degree[i + 1]).sort();
    start[i] = out;
    let last = -1;
    for (const n of mine) if (n !== last) raw[out++] = last = n;
  }
  start[nodes] = out;
  return { start, adjacency: raw.slice(0, out) };
};

/** Directions tried for each cut; oblique ones help pieces that lean. */
const DIRECTIONS = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
  [0.71, 0.7, 0],
  [0.7, -0.71, 0],
] as const;

/** Below this many nodes a part is kept whole: small dense fronts are cheaper than more tree. */
const LEAF_NODES = 14;

interface Cut {
  readonly left: Int32Array;
  readonly right: Int32Array;
  readonly seam: Int32Array;
}

/**
 * @param positions x, y, z of each node (3 × nodes); only their arrangement matters
 * @throws nothing; disconnected meshes are fine
 */
export const dissect = (graph: Graph, positions: Float64Array): Dissection => {
  const nodes = graph.start.length - 1;
  const order = new Int32Array(nodes);
  const partStart: number[] = [];
  const parent: number[] = [];
  const side = new Uint8Array(nodes);
  const height = new Float64Array(nodes);
  let placed = 0;

  const cutAlong = (set: Int32Array, d: readonly number[]): Cut => {
    for (const n of set)
      height[n] = d[0] * positions[3 * n] + d[1] * positions[3 * n + 1] + d[2] * positions[3 * n + 2];
    const heights = Float64Array.from(set, (n) => height[n]).sort();
    const middle = heights[heights.length >> 1];
    for (const n of set) side[n] = height[n] < middle ? 1 : 2;
    const lowSeam: number[] = [];
    const highSeam: number[] = [];
    for (const n of set) {
      const other = 3 - side[n];
      for (let k = graph.start[n]; k < graph.start[n + 1]; k++)
        if (side[graph.adjacency[k]] === other) {
          (other === 2 ? lowSeam : highSeam).push(n);
          break;
        }
    }
    const seam = lowSeam.length < highSeam.length ? lowSeam : highSeam;
    for (const n of seam) side[n] = 3;
    const cut = {
      left: set.filter((n) => side[n] === 1),
      right: set.filter((n) => side[n] === 2),
      seam: Int32Array.from(seam),
    };
    for (const n of set) side[n] = 0;
    return cut;
  };

  const cost = (c: Cut): number => {
    const imbalance = Math.abs(c.left.length - c.right.length) / (c.left.length + c.right.length + 1);
    return (c.seam.length + 1) * (1 + imbalance * imbalance);
  };

  const place = (set: Int32Array, children: readonly number[]): number => {
    const part = partStart.length;
    partStart.push(placed);
    parent.push(-1);
    for (const n of set) order[placed++] = n;
    for (const c of children) parent[c] = part;
    return part;
  };

  const split = (set: Int32Array): number => {
    if (set.length <= LEAF_NODES) return place(set, []);
    let best: Cut | undefined;
    for (const d of DIRECTIONS) {
      const c = cutAlong(set, d);
      if (c.left.length > 0 && c.right.length > 0 && (!best || cost(c) < cost(best))) best = c;
    }
    if (!best) return place(set, []);
    const children = [split(best.left), split(best.right)];
    return place(best.seam, children);
  };

  if (nodes > 0) split(Int32Array.from({ length: nodes }, (_, i) => i));
  partStart.push(placed);
  return { order, partStart: Int32Array.from(partStart), parent: Int32Array.from(parent) };
};
