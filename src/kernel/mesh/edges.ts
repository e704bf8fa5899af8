/** The open rims of a mesh as closed loops of node numbers, each in the direction its triangles run. */
export const boundaryLoops = (triangles: Uint32Array, nodes: number): number[][] => {
  const edges = directedEdges(triangles, nodes);
  const next = new Map<number, number>();
  for (const edge of edges) {
    const [a, b] = [Math.floor(edge / nodes), edge % nodes];
    if (!edges.has(b * nodes + a)) next.set(a, b);
  }
  const loops: number[][] = [];
  while (next.size > 0) {
    const loop: number[] = [];
    for (let at = next.keys().next().value; at !== undefined && next.has(at); ) {
      loop.push(at);
      const to = next.get(at);
      next.delete(at);
      at = to;
    }
    loops.push(loop);
  }
  return loops;
};

const directedEdges = (triangles: Uint32Array, nodes: number): Set<number> => {
  const edges = new Set<number>();
  for (let i = 0; i < triangles.length; i += 3)
    for (let k = 0; k < 3; k++) edges.add(triangles[i + k] * nodes + triangles[i + ((k + 1) % 3)]);
  return edges;
};

/** What keeps a mesh from being one clean sheet; all zero when it is one. */
export interface SheetFaults {
  /** Edges that more than two triangles share, or two that face opposite ways. */
  readonly doubledEdges: number;
  /** Nodes that no triangle uses. */
  readonly looseNodes: number;
  /** Nodes whose triangles do not form one fan: two sheets touching in a point. */
  readonly pinchedNodes: number;
  /** Triangles using a node twice. */
  readonly flatTriangles: number;
}

/** Whether the triangles form a sheet with consistent facing: each edge once each way, one fan a node. */
export const sheetFaults = (triangles: Uint32Array, nodes: number): SheetFaults => {
  const edges = directedEdges(triangles, nodes);
  let flatTriangles = 0;
  const degree = new Uint32Array(nodes);
  const links = Array.from({ length: nodes }, () => new Map<number, number>());
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
    if (a === b || b === c || c === a) flatTriangles++;
    for (const [at, from, to] of [
      [a, b, c],
      [b, c, a],
      [c, a, b],
    ]) {
      degree[at]++;
      links[at].set(from, to);
    }
  }
  let [looseNodes, pinchedNodes] = [0, 0];
  for (let n = 0; n < nodes; n++) {
    if (degree[n] === 0) looseNodes++;
    else if (fanLength(links[n]) !== degree[n]) pinchedNodes++;
  }
  return { doubledEdges: triangles.length - edges.size, looseNodes, pinchedNodes, flatTriangles };
};

/** Triangles met walking round a node once, from an open end where there is one. */
const fanLength = (link: ReadonlyMap<number, number>): number => {
  const ends = new Set(link.values());
  const start = [...link.keys()].find((k) => !ends.has(k)) ?? [...link.keys()][0];
  let length = 0;
  for (let at: number | undefined = start; at !== undefined; ) {
    at = link.get(at);
    if (at !== undefined) length++;
    if (at === start) break;
  }
  return length;
};
