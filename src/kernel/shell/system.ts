import { B, type BlockMatrix, blockAt, blockMatrixOf } from '../numerics/block-matrix.ts';
import { dissect, graphOfTriangles } from '../numerics/dissection.ts';
import type { MakeEngine } from '../numerics/front-engine.ts';
import { planFronts } from '../numerics/front-plan.ts';
import { type Factor, makeFactor } from '../numerics/multifrontal.ts';
import { type Assemble, compiledAssembly, PAIRS } from './compiled-assembly.ts';
import { shellStiffness } from './element.ts';

/**
 * The linear system of a shell mesh: everything that depends on connectivity alone, and room for the numbers.
 * Unknowns outside are node-major in mesh order (6 n + c: three velocities, three rotation rates); inside
 * they stand in elimination order.
 */
export interface ShellSystem {
  readonly nodes: number;
  readonly triangles: Uint32Array;
  readonly rank: Int32Array;
  readonly order: Int32Array;
  readonly matrix: BlockMatrix;
  readonly factor: Factor;
  /** For each triangle, six blocks (corner pairs 00 10 11 20 21 22): block number, negative - 1 if transposed. */
  readonly blocks: Int32Array;
  /** Where the engine has compiled kernels: the faster twin of assemble(). */
  readonly compiled?: Assemble;
}

/**
 * Symbolic set-up for a mesh; positions (3 × nodes) only steer the elimination order.
 * The engine may be swapped for a faster twin.
 */
export const makeShellSystem = (
  positions: Float64Array,
  triangles: Uint32Array,
  engine?: MakeEngine,
): ShellSystem => {
  const nodes = positions.length / 3;
  const graph = graphOfTriangles(nodes, triangles);
  const cut = dissect(graph, positions);
  const rank = new Int32Array(nodes);
  cut.order.forEach((n, k) => {
    rank[n] = k;
  });
  const pattern = blockMatrixOf(graph, rank, cut.order);
  const blocks = new Int32Array(2 * triangles.length);
  for (let t = 0; t < triangles.length / 3; t++)
    PAIRS.forEach(([a, b], k) => {
      const i = rank[triangles[3 * t + a]];
      const j = rank[triangles[3 * t + b]];
      blocks[6 * t + k] = i >= j ? blockAt(pattern, i, j) : -1 - blockAt(pattern, j, i);
    });
  const plan = planFronts(pattern, cut);
  const factor = makeFactor(plan, pattern, engine);
  const { inside } = factor.engine;
  const matrix = inside ? { ...pattern, values: inside.values } : pattern;
  const compiled = inside && compiledAssembly(inside, { plan, triangles, rank, blocks });
  return { nodes, triangles, rank, order: cut.order, matrix, factor, blocks, compiled };
};

const element = new Float64Array(324);

/** Material of each triangle: plane-stress modulus (Pa or Pa·s, one value or one a triangle) and ratio. */
export interface WallStiffness {
  readonly modulus: number | Float64Array;
  readonly poisson: number;
}

/** Assembles the stiffness of the shape `positions` with walls `thickness_m` (one a triangle). */
export const assemble = (
  s: ShellSystem,
  positions: Float64Array,
  thickness_m: Float64Array,
  wall: WallStiffness,
): void => {
  const v = s.matrix.values;
  const { modulus, poisson } = wall;
  if (s.compiled) {
    s.compiled(positions, thickness_m, modulus, poisson);
    return;
  }
  v.fill(0);
  for (let t = 0; t < thickness_m.length; t++) {
    const e = typeof modulus === 'number' ? modulus : modulus[t];
    const a = s.triangles[3 * t];
    const b = s.triangles[3 * t + 1];
    const c = s.triangles[3 * t + 2];
    shellStiffness(element, positions, a, b, c, thickness_m[t], e, poisson);
    for (let k = 0; k < 6; k++) {
      const target = s.blocks[6 * t + k];
      const row = 6 * PAIRS[k][0];
      const col = 6 * PAIRS[k][1];
      if (target >= 0) {
        for (let r = 0, o = 36 * target; r < 6; r++)
          for (let q = 0; q < 6; q++) v[o++] += element[18 * (row + r) + col + q];
      } else {
        for (let r = 0, o = 36 * (-1 - target); r < 6; r++)
          for (let q = 0; q < 6; q++) v[o++] += element[18 * (row + q) + col + r];
      }
    }
  }
};

/** Adds `value[n]` to the three translational diagonal entries of each node (drag, springs). */
export const addToDiagonal = (s: ShellSystem, value: Float64Array): void => {
  for (let n = 0; n < s.nodes; n++) {
    const k = s.matrix.start[s.rank[n]];
    for (let c = 0; c < 3; c++) s.matrix.values[36 * k + 7 * c] += value[n];
  }
};

/** Copies node-major unknowns between mesh order and elimination order. */
export const toElimination = (s: ShellSystem, from: Float64Array, to: Float64Array): void => {
  for (let n = 0; n < s.nodes; n++) {
    const a = B * n;
    const b = B * s.rank[n];
    for (let c = 0; c < B; c++) to[b + c] = from[a + c];
  }
};
export const fromElimination = (s: ShellSystem, from: Float64Array, to: Float64Array): void => {
  for (let n = 0; n < s.nodes; n++) {
    const a = B * n;
    const b = B * s.rank[n];
    for (let c = 0; c < B; c++) to[a + c] = from[b + c];
  }
};
