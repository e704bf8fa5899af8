import { assembleShare } from './assemble';
import { complianceShare } from './compliance';

export { denseProduct } from './peak';

import { call, calledAbout, calledFor, calledThreads, comeAboard, failed, listen, present } from './crew';
import { factoriseShare } from './factorise';
import { solveShare } from './solve';

const FACTORISE = 1;
const SOLVE = 2;
const COMPLIANCE = 3;
const ASSEMBLE = 4;

/** Factorises the subject at `s`, by all who are there if `together`. @returns 1, or 0 where a pivot is not positive */
export function factorise(s: usize, together: i32): i32 {
  const threads = together ? present() : 1;
  call(FACTORISE, s, threads);
  factoriseShare(s, 0, threads);
  return failed() ? 0 : 1;
}

/** Solves for the right side at X. */
export function solve(s: usize, together: i32): void {
  const threads = together ? present() : 1;
  call(SOLVE, s, threads);
  solveShare(s, 0, threads);
}

/** S of the batches laid out at `s`. */
export function compliance(s: usize, together: i32): void {
  const threads = together ? present() : 1;
  call(COMPLIANCE, s, threads);
  complianceShare(s, 0, threads);
}

/** The stiffness of the wall laid out at `s`. */
export function assemble(s: usize, together: i32): void {
  const threads = together ? present() : 1;
  call(ASSEMBLE, s, threads);
  assembleShare(s, 0, threads);
}

/** A worker comes aboard; its number, from 1. */
export function join(): i32 {
  return comeAboard();
}

/**
 * A worker's whole life: it answers calls until it is ended from outside. (Its number comes as an argument: kept from a
 * call within this function it was lost by the quick compiler of one engine, V8 11.3, and two threads thought they were one.)
 */
export function serve(me: i32): void {
  let seen = 0;
  while (true) {
    const now = listen(seen);
    if (now === seen) continue;
    seen = now;
    if (me >= calledThreads()) continue;
    // Read once: when the last to finish lets go, the next call may come at any moment.
    answer(calledFor(), calledAbout(), me, calledThreads());
  }
}

function answer(kind: i32, s: usize, me: i32, threads: i32): void {
  if (kind === FACTORISE) factoriseShare(s, me, threads);
  else if (kind === SOLVE) solveShare(s, me, threads);
  else if (kind === ASSEMBLE) assembleShare(s, me, threads);
  else complianceShare(s, me, threads);
}

/** How many threads there are, the caller among them. */
export function threads(): i32 {
  return present();
}
