import type { BlockMatrix } from './block-matrix.ts';
import { type Column, wayOf } from './compliance-way.ts';
import { planCrew } from './crew-plan.ts';
import { type Forge, giveBack, takeRoom } from './forge.ts';
import type { MakeEngine } from './front-engine.ts';
import type { FrontPlan } from './front-plan.ts';

/**
 * The compiled engine: its numbers stand in the forge's memory (layout: assembly/plan.ts and tile.ts), where all threads
 * see them. Twin of plain-engine.ts, equal to it to round-off.
 */

/** Below this many operations waking the others costs more than they help. */
const WORTH_CALLING = 4e6;
/** Threads whose scratch is laid out: more than come are never called. */
const MOST_THREADS = 16;
/** Solves that take as long as a factorisation: counted operations over measured speeds (13 and 6 GF/s, two threads 22). */
const SPEED_RATIO = 6 / 16;

export const wasmEngine =
  (forge: Forge): MakeEngine =>
  (plan, matrix) => {
    const rooms: number[] = [];
    const room = (bytes: number): number => {
      const at = takeRoom(forge, bytes);
      rooms.push(at);
      return at;
    };
    const ints = (values: Int32Array): number => {
      const at = room(4 * values.length);
      new Int32Array(forge.memory.buffer, at, values.length).set(values);
      return at;
    };
    const laidOut = layOut(plan, matrix, room, ints);
    const subject = room(4 * laidOut.words.length);
    new Int32Array(forge.memory.buffer, subject, laidOut.words.length).set(laidOut.words);
    const { valuesAt, heldAt, xAt } = laidOut;
    const together = plan.flops > WORTH_CALLING ? 1 : 0;
    return {
      factorise: (m, held) => {
        new Float64Array(forge.memory.buffer, valuesAt, m.values.length).set(m.values);
        new Uint8Array(forge.memory.buffer, heldAt, held.length).set(held);
        return forge.exports.factorise(subject, together) === 1;
      },
      solve: (x) => {
        const single = new Float32Array(forge.memory.buffer, xAt, x.length);
        const scale = greatest(x);
        if (!(scale > 0)) return;
        for (let i = 0; i < x.length; i++) single[i] = x[i] / scale;
        forge.exports.solve(subject);
        for (let i = 0; i < x.length; i++) x[i] = single[i] * scale;
      },
      compliance: (columns) => compliance(forge, subject, plan, columns),
      worthSolves: (SPEED_RATIO * plan.flops) / (4 * plan.factorLength),
      free: () => {
        for (const at of rooms) giveBack(forge, at);
        rooms.length = 0;
      },
    };
  };

/** Single precision ends at 1e38 and 1e-38: right sides are brought near 1. */
const greatest = (x: Float64Array): number => {
  let most = 0;
  for (const v of x) most = Math.max(most, Math.abs(v));
  return most;
};

const layOut = (
  plan: FrontPlan,
  matrix: BlockMatrix,
  room: (bytes: number) => number,
  ints: (values: Int32Array) => number,
): { words: Int32Array; valuesAt: number; heldAt: number; xAt: number } => {
  const crew = planCrew(plan);
  const nodes = matrix.nodes;
  const valuesAt = room(8 * matrix.values.length);
  const heldAt = room(6 * nodes);
  const xAt = room(4 * 6 * nodes + 64);
  let widest = 0;
  for (let s = 0; s < plan.parts; s++) widest = Math.max(widest, plan.pivots[s] + plan.borders[s]);
  // The order is that of assembly/plan.ts.
  const words = Int32Array.of(
    plan.parts,
    nodes,
    ints(plan.partStart),
    ints(plan.parent),
    ints(plan.borderStart),
    ints(plan.border),
    ints(plan.pivots),
    ints(plan.borders),
    ints(plan.factorAt),
    ints(crew.buildAt),
    ints(crew.restAt),
    room(8 * plan.factorLength),
    room(4 * plan.factorLength),
    room(8 * crew.stackLength),
    ints(matrix.start),
    ints(matrix.row),
    valuesAt,
    heldAt,
    crew.branchFirst.length,
    ints(crew.branchFirst),
    ints(crew.branchLast),
    ints(crew.above),
    crew.above.length,
    room(4 * nodes * MOST_THREADS),
    ints(crew.childStart),
    ints(crew.child),
    xAt,
    // Eight columns of a whole front, which is more than a solve needs.
    room(64 * (widest + 8)),
  );
  return { words, valuesAt, heldAt, xAt };
};

const WIDE = 8;

const compliance = (
  forge: Forge,
  subject: number,
  plan: FrontPlan,
  columns: readonly Column[],
): Float64Array => {
  const way = wayOf(plan, columns);
  const m = columns.length;
  const groups = 2 * Math.ceil(m / WIDE);
  const { exports, memory } = forge;
  const xAt = takeRoom(forge, 8 * WIDE * way.length);
  const rowsAt = takeRoom(forge, 32 * groups * way.length);
  const partsAt = takeRoom(forge, 4 * plan.parts);
  const whereAt = takeRoom(forge, 4 * plan.parts);
  const borderAt = takeRoom(forge, 4 * way.borderAt.length);
  const outAt = takeRoom(forge, 128 * groups * groups);
  new Int32Array(memory.buffer, borderAt, way.borderAt.length).set(way.borderAt);
  const x = new Float64Array(memory.buffer, xAt, WIDE * way.length);
  for (let at = 0; at < m; at += WIDE) {
    const { parts, where } = way.start(at, WIDE, x);
    new Int32Array(memory.buffer, partsAt, parts.length).set(parts);
    new Int32Array(memory.buffer, whereAt, where.length).set(where);
    exports.forwardEight(subject, xAt, partsAt, parts.length, whereAt, borderAt);
    exports.keepEight(xAt, rowsAt + 32 * (at / 4) * way.length, way.length);
  }
  exports.products(rowsAt, groups, way.length, outAt);
  const s = unpackTiles(new Float64Array(memory.buffer, outAt, 16 * groups * groups), groups, way.order);
  for (const at of [xAt, rowsAt, partsAt, whereAt, borderAt, outAt]) giveBack(forge, at);
  return s;
};

/** S from its tiles (see products() in assembly/compliance.ts), columns put back in the order they were asked in. */
const unpackTiles = (tiles: Float64Array, groups: number, order: readonly number[]): Float64Array => {
  const m = order.length;
  const s = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j <= i; j++) {
      const tile = 16 * ((i >> 2) * groups + (j >> 2));
      const v = -tiles[tile + 4 * (j & 3) + (i & 3)];
      s[order[i] * m + order[j]] = s[order[j] * m + order[i]] = v;
    }
  return s;
};
