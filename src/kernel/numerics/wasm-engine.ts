import type { BlockMatrix } from './block-matrix.ts';
import { type Column, wayOf } from './compliance-way.ts';
import { type CrewPlan, planCrew } from './crew-plan.ts';
import { type Forge, giveBack, takeRoom } from './forge.ts';
import type { MakeEngine } from './front-engine.ts';
import type { FrontPlan } from './front-plan.ts';

/**
 * The compiled engine: its numbers stand in the forge's memory (layout: assembly/plan.ts and tile.ts), where all threads
 * see them. Twin of plain-engine.ts, equal to it to round-off.
 */

/** Below this many operations waking the others costs more than they help. */
const WORTH_CALLING = 4e6;
/** Threads whose scratch is laid out (as in assembly/crew.ts). */
const MOST_THREADS = 4;
/** Solves that take as long as a factorisation: counted operations over measured speeds (15 and 2.4 GF/s). */
const SPEED_RATIO = 2.4 / 15;

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
    const { valuesAt, heldAt, xAt, crew } = laidOut;
    const values = new Float64Array(forge.memory.buffer, valuesAt, matrix.values.length);
    const together = plan.flops > WORTH_CALLING ? 1 : 0;
    return {
      factorise: (m, held) => {
        if (m.values !== values) values.set(m.values);
        new Uint8Array(forge.memory.buffer, heldAt, held.length).set(held);
        return forge.exports.factorise(subject, together) === 1;
      },
      solve: (x) => {
        const inside = new Float64Array(forge.memory.buffer, xAt, x.length);
        inside.set(x);
        forge.exports.solve(subject, together);
        x.set(inside);
      },
      compliance: (columns) => compliance(forge, subject, plan, columns, together),
      inside: { forge, subject, crew, values, room },
      worthSolves: (SPEED_RATIO * plan.flops) / (4 * plan.factorLength),
      free: () => {
        for (const at of rooms) giveBack(forge, at);
        rooms.length = 0;
      },
    };
  };

const layOut = (
  plan: FrontPlan,
  matrix: BlockMatrix,
  room: (bytes: number) => number,
  ints: (values: Int32Array) => number,
): { words: Int32Array; valuesAt: number; heldAt: number; xAt: number; crew: CrewPlan } => {
  const crew = planCrew(plan);
  const nodes = matrix.nodes;
  const valuesAt = room(8 * matrix.values.length);
  const heldAt = room(6 * nodes);
  const xAt = room(8 * 6 * nodes);
  let widest = 0;
  for (let s = 0; s < plan.parts; s++) widest = Math.max(widest, plan.pivots[s] + plan.borders[s]);
  // Eight columns of a whole front, which is more than a solve needs.
  const workBytes = Math.max(64 * (widest + 8), ELEMENT_BYTES);
  // The order is that of assembly/plan.ts.
  const words = Int32Array.of(
    plan.parts,
    nodes,
    ints(plan.partStart),
    ints(plan.borderStart),
    ints(plan.border),
    ints(plan.pivots),
    ints(plan.borders),
    ints(plan.factorAt),
    ints(crew.buildAt),
    ints(crew.restAt),
    room(8 * plan.factorLength),
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
    ints(crew.childStart),
    ints(crew.child),
    room(4 * nodes * MOST_THREADS),
    room(48 * nodes * MOST_THREADS),
    room(workBytes * MOST_THREADS),
    workBytes,
    xAt,
    ...new Array(LATER_WORDS).fill(0),
  );
  return { words, valuesAt, heldAt, xAt, crew };
};

/** Words at the end: those set anew for each compliance, then the wall's (see ../shell/compiled-assembly.ts). */
const LATER_WORDS = 22;
const FIRST_BATCH_WORD = 28;
/** Scratch of two triangles (assembly/element.ts). */
const ELEMENT_BYTES = 9408;

const WIDE = 8;

const compliance = (
  forge: Forge,
  subject: number,
  plan: FrontPlan,
  columns: readonly Column[],
  together: number,
): Float64Array => {
  const way = wayOf(plan, columns);
  const batches = Array.from({ length: Math.ceil(columns.length / WIDE) }, (_, b) =>
    way.batch(WIDE * b, WIDE),
  );
  const groups = 2 * batches.length;
  const { memory } = forge;
  const rooms: number[] = [];
  const room = (bytes: number): number => {
    const at = takeRoom(forge, bytes);
    rooms.push(at);
    return at;
  };
  const ints = (values: ArrayLike<number>): number => {
    const at = room(4 * values.length);
    new Int32Array(memory.buffer, at, values.length).set(values);
    return at;
  };
  const joined = (lists: readonly Int32Array[]): number => ints(lists.flatMap((list) => [...list]));
  const starts = (lists: readonly Int32Array[]): number => {
    const sums = [0];
    for (const list of lists) sums.push(sums[sums.length - 1] + list.length);
    return ints(sums);
  };
  const values = batches.flatMap((b) => [...b.value]);
  const valueAt = room(8 * values.length);
  new Float64Array(memory.buffer, valueAt, values.length).set(values);
  const tilesAt = room(128 * groups * groups);
  // The order is that of assembly/plan.ts.
  const words = [
    batches.length,
    starts(batches.map((b) => b.at)),
    joined(batches.map((b) => b.at)),
    valueAt,
    starts(batches.map((b) => b.parts)),
    joined(batches.map((b) => b.parts)),
    joined(batches.map((b) => b.where)),
    ints(way.borderAt),
    way.length,
    room(8 * WIDE * way.length * MOST_THREADS),
    room(32 * groups * way.length),
    tilesAt,
  ];
  new Int32Array(memory.buffer, subject + 4 * FIRST_BATCH_WORD, words.length).set(words);
  forge.exports.compliance(subject, together);
  const s = unpackTiles(new Float64Array(memory.buffer, tilesAt, 16 * groups * groups), groups, way.order);
  for (const at of rooms) giveBack(forge, at);
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
