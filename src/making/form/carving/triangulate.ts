import Constrainautor from '@kninnug/constrainautor';
import Delaunator from 'delaunator';

/**
 * Triangles of a closed band with holes in it. The band (x closing round at 2 pi, y up) is laid out as the plane
 * figure exp(y + ix), a ring, so that it has no seam to weld and small triangles keep their angles; there Delaunay's
 * triangulation is made to keep the given edges, and what lies beyond them is dropped.
 * @param loops closed chains of node numbers: the first is the band's lower edge, the second its upper one, the rest
 *   rims of openings; every edge of them is kept
 * @returns node numbers, three a triangle, counter-clockwise with x to the right and y up
 */
export const triangulateBand = (
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  loops: readonly ArrayLike<number>[],
): Uint32Array => {
  const n = x.length;
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) lowest = Math.min(lowest, y[i]);
  const plane = new Float64Array(2 * n);
  for (let i = 0; i < n; i++) {
    const r = Math.exp(y[i] - lowest);
    plane[2 * i] = r * Math.cos(x[i]);
    plane[2 * i + 1] = r * Math.sin(x[i]);
  }
  const del = new Delaunator(plane);
  const con = new Constrainautor(del);
  const kept: [number, number][] = [];
  for (const loop of loops)
    for (let k = 0; k < loop.length; k++) kept.push([loop[k], loop[(k + 1) % loop.length]]);
  con.constrainAll(kept);
  return withinEdges(del, (edge) => con.isConstrained(edge), loops[1]);
};

/** Triangles that can be reached from inside the outer loop without crossing a kept edge. */
const withinEdges = (
  del: { readonly triangles: Uint32Array; readonly halfedges: Int32Array },
  keptEdge: (edge: number) => boolean,
  outer: ArrayLike<number>,
): Uint32Array => {
  const { triangles: t, halfedges } = del;
  const count = t.length / 3;
  const state = new Uint8Array(count);
  const stack: number[] = [];
  const [a, b] = [outer[0], outer[1]];
  for (let e = 0; e < t.length && stack.length === 0; e++) {
    const to = t[e % 3 === 2 ? e - 2 : e + 1];
    // The upper edge is the hull of the figure, whichever way round its triangles run.
    if (halfedges[e] < 0 && (t[e] === a ? to === b : t[e] === b && to === a)) stack.push(Math.floor(e / 3));
  }
  for (let first = stack.pop(); first !== undefined; first = stack.pop()) {
    if (state[first]) continue;
    state[first] = 1;
    for (let e = 3 * first; e < 3 * first + 3; e++) {
      const over = halfedges[e];
      if (over >= 0 && !keptEdge(e) && !state[Math.floor(over / 3)]) stack.push(Math.floor(over / 3));
    }
  }
  const out: number[] = [];
  for (let i = 0; i < count; i++) if (state[i]) out.push(t[3 * i], t[3 * i + 1], t[3 * i + 2]);
  return Uint32Array.from(out);
};
