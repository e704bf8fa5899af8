import type { CreepStep } from '../../../kernel/shell/creep.ts';
import { extentOf } from '../../../kernel/shell/extent.ts';
import type { AimPass } from './aim-contract.ts';
import { backThroughFire, type FireWay, throughFire, type Went } from './fired-way.ts';
import { outOfShelf, spotsOf } from './lying.ts';
import { differenceOf, type Free, laidOn, sizesOf } from './nearness.ts';

/**
 * From the wanted fired shape W to the green G whose firing F(G) is W. One way back, B(W), lands within hundredths of a
 * millimetre to a millimetre; then G ← G + B(W) - B(F(G)), B the way back, which vanishes only where F(G) = W whatever the
 * faults of B. (G ← G + W - F(G) diverges for tall waisted pieces.) B holds the same nodes each time, those on which W lies:
 * held where each fired shape happened to lie, the corrections jumped about (a lobed tube on its side: 0.9, 0.9, 2.2, 0.8 mm;
 * with the same nodes 0.9, 0.9, 0.2, 0.1).
 */
export interface Sought {
  readonly way: FireWay;
  /** In bone-dry lengths, as it lies in the kiln. */
  readonly wanted: Float64Array;
  /** 1 a node on which the wanted shape lies. */
  readonly lies: Uint8Array;
  readonly free: Free;
  /** Whether where it lies is left out and told by itself. */
  readonly onSpots: boolean;
  /** Bone-dry lengths times this are fired ones. */
  readonly firedScale: number;
  readonly tolerance_m: number;
  readonly most: number;
}

/** One green shape and what the fire makes of it. */
export interface Tried extends AimPass {
  readonly green: Float64Array;
  readonly fired: Float64Array;
  /** `fired` laid on the wanted shape. */
  readonly laid: Float64Array;
  /** m, at fired size. */
  readonly difference_m: Float64Array;
  readonly lies: Uint8Array;
  readonly flattened_m: number;
}

export interface Found {
  readonly best: Tried | undefined;
  readonly passes: readonly AimPass[];
  /** How it went that could not go all the way; the last such. */
  readonly stopped: (Went & { readonly on: 'back' | 'through' }) | undefined;
}

/** What is being done, how much of it is done (0 to 1), and the passes so far. */
export interface Step {
  readonly note: string;
  readonly pass: number;
  readonly done: number;
  readonly passes: readonly AimPass[];
}

/** Where only the spots it lies on are off, it is worth going on while they get better by this factor. */
const WORTH = 0.75;
/**
 * A pass may end further off than the one before and still be on the way, while contacts sort themselves out (a pierced vase on
 * its side: 0.6, 2.0, 0.4, 0.2 mm; halving at the first step back: 0.6, 2.0, 1.3, 0.4). So many times further off, it is not. On
 * a foot or a rim contacts do not sort themselves out, and any step back is halved.
 */
const ASTRAY = 5;
/** A first firing that ends this part of the size away did something else altogether: it fell. */
const FELL = 0.05;
/** Part of the shape before that is mixed in at most. */
const MOST_MIXED = 0.75;

function* watched(
  run: Generator<CreepStep, Went, void>,
  clockEnd: number,
  tell: (done: number) => Step,
): Generator<Step, Went, void> {
  try {
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) return r.value;
      yield tell(Math.min(1, r.value.time_s / clockEnd));
    }
  } finally {
    run.return(undefined as never);
  }
}

const judged = (s: Sought, green: Float64Array, went: Went): Tried => {
  const laid = laidOn(went.positions, s.wanted, s.free);
  const difference_m = differenceOf(laid, s.wanted, s.way.triangles).map((d) => s.firedScale * d);
  const touching = went.resting.map((r, n) => r | s.lies[n]);
  const lies = s.onSpots ? spotsOf(s.way, s.wanted, touching) : touching;
  const all = sizesOf(difference_m, (n) => !s.onSpots || lies[n] === 0);
  const flattened_m = sizesOf(difference_m, (n) => lies[n] !== 0).max_m;
  return { green, fired: went.positions, laid, difference_m, lies, flattened_m, ...all };
};

/** Whether `a` is the better of two: first within tolerance, then by where it lies. */
const better = (a: Tried, b: Tried, tolerance: number): boolean =>
  Math.max(a.max_m, tolerance) !== Math.max(b.max_m, tolerance)
    ? a.max_m < b.max_m
    : a.flattened_m < b.flattened_m;

interface Corrected {
  readonly green: Float64Array;
  readonly correction: Float64Array;
  /** Nodes that are left out, see Sought.onSpots. */
  readonly spots: Uint8Array;
}

/**
 * The corrected green shape, mixed with the one before where that takes from the correction (D. G. Anderson, "Iterative
 * procedures for nonlinear integral equations", J. ACM 12 (1965) 547-560, with a memory of one): what a correction overshoots
 * shows in the next as its opposite (a coarse lobed tube on its side went 0.80, -0.77, 0.71, -0.67 mm without).
 */
const next = (here: Corrected, before: Corrected | undefined, share: number): Float64Array => {
  const plain = here.green.map((x, i) => x + share * here.correction[i]);
  if (!before || share < 1) return plain;
  let [product, square] = [0, 0];
  for (let i = 0; i < plain.length; i++) {
    if (here.spots[(i / 3) | 0]) continue;
    const turn = here.correction[i] - before.correction[i];
    product += here.correction[i] * turn;
    square += turn * turn;
  }
  const theta = Math.min(MOST_MIXED, Math.max(0, product / (square || 1e-300)));
  return plain.map((x, i) => (1 - theta) * x + theta * (before.green[i] + before.correction[i]));
};

/** Within tolerance, and nothing to be gained where it lies. */
const enough = (best: Tried, last: Tried | undefined, tolerance: number): boolean =>
  best.max_m <= tolerance &&
  (best.flattened_m <= tolerance || (last !== undefined && !(best.flattened_m < WORTH * last.flattened_m)));

/** Seeks the green shape; yields each step. */
export function* seek(s: Sought): Generator<Step, Found, void> {
  const { way, wanted, tolerance_m: tolerance } = s;
  const passes: AimPass[] = [];
  const step = (note: string) => (done: number) => ({ note, pass: passes.length, done, passes });
  const back = (shape: Float64Array) =>
    watched(backThroughFire(way, shape, s.lies), way.clockEnd, step('back through the fire'));
  const first = yield* back(wanted);
  if (!first.whole) return { best: undefined, passes, stopped: { ...first, on: 'back' } };
  let best: Tried | undefined;
  /** The green shape the next one starts from, what the ways back say to add to it, and the same of the one before. */
  let here: Corrected | undefined;
  let before: Corrected | undefined;
  let share = 1;
  let green = outOfShelf(way, first.positions);
  while (true) {
    const went = yield* watched(throughFire(way, green), way.clockEnd, step('through the fire'));
    if (!went.whole && !best) return { best, passes, stopped: { ...went, on: 'through' } };
    const tried = went.whole ? judged(s, green, went) : undefined;
    if (tried) passes.push({ max_m: tried.max_m, rms_m: tried.rms_m });
    const last = best;
    if (tried && (!best || better(tried, best, tolerance))) best = tried;
    if (tried && !last && tried.max_m > FELL * s.firedScale * extentOf(wanted))
      return { best: undefined, passes, stopped: { ...went, on: 'through' } };
    if (!tried || passes.length >= s.most || enough(best as Tried, last, tolerance))
      return { best, passes, stopped: undefined };
    if (tried.max_m <= (s.onSpots ? ASTRAY : 1) * (best as Tried).max_m) {
      const again = yield* back(tried.laid);
      if (!again.whole) return { best, passes, stopped: { ...again, on: 'back' } };
      // Further off than the pass before, it lies on other nodes: what the two corrections differ by says nothing.
      before = passes.length > 1 && tried.max_m > passes[passes.length - 2].max_m ? undefined : here;
      const correction = first.positions.map((x, i) => x - again.positions[i]);
      here = { green, correction, spots: tried.lies };
      share = 1;
    } else share /= 2;
    green = outOfShelf(way, next(here as Corrected, before, share));
  }
}
