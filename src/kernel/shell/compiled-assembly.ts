import type { EngineInside } from '../numerics/front-engine.ts';
import type { FrontPlan } from '../numerics/front-plan.ts';

/** What depends on connectivity alone. */
export interface WallPattern {
  readonly plan: FrontPlan;
  readonly triangles: Uint32Array;
  readonly rank: Int32Array;
  /** As ShellSystem.blocks. */
  readonly blocks: Int32Array;
}

/** Adds up the wall's stiffness into the engine's matrix. */
export type Assemble = (
  positions: Float64Array,
  thickness_m: Float64Array,
  modulus: number | Float64Array,
  poisson: number,
) => void;

/** The first word of the wall in assembly/plan.ts; the Poisson ratio follows after eight words. */
const FIRST_WORD = 40;
const POISSON_BYTE = 192;

/** Corner pairs of a triangle in the order of its blocks. */
export const PAIRS = [
  [0, 0],
  [1, 0],
  [1, 1],
  [2, 0],
  [2, 1],
  [2, 2],
] as const;

/**
 * Lays the wall out beside the engine's matrix and gives the compiled twin of assemble(): same numbers to round-off,
 * two triangles at a time, by all threads.
 */
export const compiledAssembly = (inside: EngineInside, wall: WallPattern): Assemble => {
  const { forge, subject, room } = inside;
  const count = wall.triangles.length / 3;
  const nodes = wall.rank.length;
  const { list, start, pairsAbove } = shareOut(inside, wall);
  const ints = (values: ArrayLike<number>): number => {
    const at = room(4 * values.length);
    new Int32Array(forge.memory.buffer, at, values.length).set(values);
    return at;
  };
  const [positionsAt, thicknessAt, modulusAt] = [room(24 * nodes), room(8 * count), room(8 * count)];
  const trianglesAt = ints(wall.triangles);
  const blocksAt = ints(wall.blocks);
  const startAt = ints(start);
  const listAt = ints(list);
  const pairsAt = room(count);
  new Uint8Array(forge.memory.buffer, pairsAt, count).set(pairsAbove);
  new Int32Array(forge.memory.buffer, subject + 4 * FIRST_WORD, 8).set([
    positionsAt,
    thicknessAt,
    modulusAt,
    trianglesAt,
    blocksAt,
    startAt,
    listAt,
    pairsAt,
  ]);
  return (positions, thickness_m, modulus, poisson) => {
    const memory = forge.memory.buffer;
    new Float64Array(memory, positionsAt, 3 * nodes).set(positions);
    new Float64Array(memory, thicknessAt, count).set(thickness_m);
    const moduli = new Float64Array(memory, modulusAt, count);
    if (typeof modulus === 'number') moduli.fill(modulus);
    else moduli.set(modulus);
    new Float64Array(memory, subject + POISSON_BYTE, 1)[0] = poisson;
    forge.exports.assemble(subject, count > WORTH_CALLING ? 1 : 0);
  };
};

/** Triangles from which waking the other threads pays. */
const WORTH_CALLING = 600;

/** Which branch each triangle belongs to, and which of its pairs lie above all branches. */
const shareOut = (
  { crew }: EngineInside,
  { plan, triangles, rank, blocks }: WallPattern,
): { list: number[]; start: number[]; pairsAbove: Uint8Array } => {
  const branches = crew.branchFirst.length;
  const branchOf = new Int32Array(rank.length).fill(-1);
  for (let b = 0; b < branches; b++)
    branchOf.fill(b, plan.partStart[crew.branchFirst[b]], plan.partStart[crew.branchLast[b] + 1]);
  const shares: number[][] = Array.from({ length: branches + 1 }, () => []);
  const pairsAbove = new Uint8Array(blocks.length / 6);
  for (let t = 0; t < pairsAbove.length; t++) {
    const of = [0, 1, 2].map((c) => branchOf[rank[triangles[3 * t + c]]]);
    const branch = Math.max(...of);
    PAIRS.forEach(([a, b], k) => {
      if (of[a] < 0 && of[b] < 0) pairsAbove[t] |= 1 << k;
    });
    if (branch >= 0) shares[branch].push(t);
    if (pairsAbove[t] !== 0) shares[branches].push(t);
  }
  const start = [0];
  for (const share of shares) start.push(start[start.length - 1] + share.length);
  return { list: shares.flat(), start, pairsAbove };
};
