import { fillBand, type Spacing } from './fill.ts';
import { relax, wayRound } from './relax.ts';
import type { Rim } from './rim.ts';
import { triangulateBand } from './triangulate.ts';

/** One edge of the band to be filled: where its nodes stand on the unrolled wall, x rising. */
export interface BandEdge {
  readonly x: Float64Array;
  readonly y: number;
}

export interface Patch {
  /** Nodes: the lower edge's, the upper edge's, the rims' in order, then those between. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly triangles: Uint32Array;
  /** Node numbers of each rim. */
  readonly rims: readonly Uint32Array[];
}

/** Rounds of moving nodes and triangulating anew; beyond these the smallest angle hardly grows. */
const ROUNDS = 6;

const fixedNodes = (low: BandEdge, high: BandEdge, rims: readonly Rim[]) => {
  const x = [...low.x, ...high.x];
  const y = [...low.x.map(() => low.y), ...high.x.map(() => high.y)];
  const towards = x.map(() => 0);
  for (const rim of rims) {
    const n = rim.x.length;
    for (let i = 0; i < n; i++) {
      const [a, b] = [(i + n - 1) % n, (i + 1) % n];
      x.push(rim.x[i]);
      y.push(rim.y[i]);
      towards.push(Math.atan2(rim.y[b] - rim.y[a], rim.x[b] - rim.x[a]));
    }
  }
  return { x, y, towards };
};

/** Keeps the fixed nodes and those some triangle uses: what stood inside an opening goes. */
const onlyUsed = (x: Float64Array, y: Float64Array, triangles: Uint32Array, fixed: number) => {
  const used = new Uint8Array(x.length).fill(1, 0, fixed);
  for (const n of triangles) used[n] = 1;
  return { x: x.filter((_, i) => used[i]), y: y.filter((_, i) => used[i]) };
};

/**
 * Triangles between two closed rings of nodes and round the rims of openings, about as large as the spacing asks for.
 * The nodes of rings and rims stay where they are.
 */
export const fillPatch = (
  low: BandEdge,
  high: BandEdge,
  rims: readonly Rim[],
  spacing: Spacing,
  most: number,
): Patch => {
  const edges = fixedNodes(low, high, rims);
  const fixed = edges.x.length;
  const loops: Uint32Array[] = [];
  let first = 0;
  for (const count of [low.x.length, high.x.length, ...rims.map((rim) => rim.x.length)]) {
    loops.push(Uint32Array.from({ length: count }, (_, k) => first + k));
    first += count;
  }
  const filled = fillBand(edges, spacing, low.y, high.y, most);
  let x = Float64Array.from(filled.x);
  let y = Float64Array.from(filled.y);
  let triangles = triangulateBand(x, y, loops);
  ({ x, y } = onlyUsed(x, y, triangles, fixed));
  triangles = triangulateBand(x, y, loops);
  for (let round = 0; round < ROUNDS; round++) {
    relax(x, y, triangles, fixed, spacing);
    triangles = triangulateBand(x, y, loops);
  }
  return { x, y, triangles, rims: loops.slice(2) };
};

/** Twice the area of a triangle on the unrolled wall. */
export const planeArea =
  (x: Float64Array, y: Float64Array) =>
  (a: number, b: number, c: number): number =>
    wayRound(x[a], x[b]) * (y[c] - y[a]) - wayRound(x[a], x[c]) * (y[b] - y[a]);
