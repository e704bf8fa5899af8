import { onNearest } from '../src/kernel/mesh/on-nearest.ts';
import type { MakeEngine } from '../src/kernel/numerics/front-engine.ts';
import type { Aim, AimInput } from '../src/making/firing/aim/aim-contract.ts';
import { type FireWay, throughFire } from '../src/making/firing/aim/fired-way.ts';
import { outOfShelf } from '../src/making/firing/aim/lying.ts';
import { differenceOf, laidOn, sizesOf } from '../src/making/firing/aim/nearness.ts';
import type { Sought } from '../src/making/firing/aim/passes.ts';
import { setWanted, soughtFor } from '../src/making/firing/aim/wanted.ts';

/**
 * No inverse crime: a green shape is not to be tested by the very numbers that made it (D. Colton, R. Kress, "Inverse Acoustic
 * and Electromagnetic Scattering Theory", 5.3; from memory). Here it is carried on to a mesh of twice as many triangles that
 * shares no nodes with the first but by chance, and fired there in midpoint steps (Runge-Kutta of order 2), each begun anew, in
 * place of Adams-Bashforth ones that follow an error.
 */

const drive = <T>(run: Generator<unknown, T, void>): T => {
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};

/** The way of one midpoint step: the clock and its history begin anew there. */
const midpointStep = (way: FireWay, k: number, steps: number): FireWay => {
  const dc = way.clockEnd / steps;
  const { creepClockUnshrunk } = way.history;
  return {
    ...way,
    history: { ...way.history, creepClockUnshrunk: creepClockUnshrunk.map((c) => c - k * dc) },
    clockEnd: dc,
    options: { tolerance_m: 1, longest_s: () => dc },
  };
};

/** The green shape on the finer mesh: the finer wanted one moved by the first's way from wanted to green. */
const greenOn = (fine: Sought, a: Aim): Float64Array => {
  const wanted = a.wanted.positions.map((x) => x / a.firedScale);
  const way = a.green.positions.map((x, i) => x - wanted[i]);
  const moved = onNearest({ positions: wanted, triangles: a.green.triangles }, way, fine.wanted);
  return outOfShelf(
    fine.way,
    fine.wanted.map((x, i) => x + moved[i]),
  );
};

/** What a firing of an aimed green shape on a finer mesh differs by from what was wanted. */
export interface OnFiner {
  readonly max_m: number;
  readonly rms_m: number;
  readonly triangles: number;
  /** A touch cuts a midpoint step short now and then, so these may be more than were asked for. */
  readonly steps: number;
  readonly whole: boolean;
}

/** Fires an aim's green shape on a mesh of twice as many triangles. */
export const firedOnFiner = (a: Aim, input: AimInput, steps: number, engine?: MakeEngine): OnFiner => {
  const again = { ...input, triangles: 2 * input.triangles };
  const fine = soughtFor(setWanted(again), again, engine);
  const { triangles } = fine.way;
  let positions = greenOn(fine, a);
  let taken = 0;
  let whole = true;
  for (let k = 0; k < steps && whole; k++) {
    const went = drive(throughFire(midpointStep(fine.way, k, steps), positions));
    ({ positions, whole } = went);
    taken += went.end.steps;
  }
  const laid = laidOn(positions, fine.wanted, fine.free);
  const difference = differenceOf(laid, fine.wanted, triangles).map((d) => d * a.firedScale);
  const lies = Float64Array.from(a.wanted.positions, (_, i) => a.lies[(i / 3) | 0]);
  const on = onNearest(
    a.wanted,
    lies,
    fine.wanted.map((x) => x * a.firedScale),
  );
  const sizes = sizesOf(difference, (n) => !fine.onSpots || on[3 * n] === 0);
  return { ...sizes, triangles: triangles.length / 3, steps: taken, whole };
};
