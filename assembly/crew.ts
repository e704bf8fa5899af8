/**
 * Several threads on one memory. The caller is thread 0 and never waits for anyone who has not come: a worker counts
 * itself in when it is there, and a job is shared among those present when it begins.
 */
// Words at the very bottom of the memory (bytes).
const CAME: usize = 64;
const EPOCH: usize = 128;
const KIND: usize = 132;
const SUBJECT: usize = 136;
const THREADS: usize = 140;
const ARRIVED: usize = 192;
const ROUND: usize = 196;
const NEXT: usize = 256;
const FAILED: usize = 260;

const SPINS = 20000;
const PATIENCE_ns: i64 = 1_000_000_000;

/** A worker comes aboard: its number, from 1. */
export function comeAboard(): i32 {
  return atomic.add<i32>(CAME, 1) + 1;
}

/** Scratch is laid out for so many (MOST_THREADS in wasm-engine.ts); more who come are not called. */
const MOST_THREADS = 4;

/** How many threads there are now, the caller among them. */
export function present(): i32 {
  return min(MOST_THREADS, 1 + atomic.load<i32>(CAME));
}

/** Waits until all threads of the present job have come to this point. */
export function meet(threads: i32): void {
  if (threads === 1) return;
  const round = atomic.load<i32>(ROUND);
  if (atomic.add<i32>(ARRIVED, 1) + 1 === threads) {
    atomic.store<i32>(ARRIVED, 0);
    atomic.add<i32>(ROUND, 1);
    atomic.notify(ROUND, threads);
    return;
  }
  for (let k = 0; k < SPINS; k++) if (atomic.load<i32>(ROUND) !== round) return;
  while (atomic.load<i32>(ROUND) === round) atomic.wait<i32>(ROUND, round, PATIENCE_ns);
}

/** The next piece of work nobody has taken yet. */
export function take(): i32 {
  return atomic.add<i32>(NEXT, 1);
}

/** Pieces can be taken from the first again; only between two meetings. */
export function putBack(): void {
  atomic.store<i32>(NEXT, 0);
}

export function fail(): void {
  atomic.store<i32>(FAILED, 1);
}
export function failed(): bool {
  return atomic.load<i32>(FAILED) !== 0;
}

/** Thread 0 calls the others to a job; it must do its own share and meet them at the end. */
export function call(kind: i32, subject: usize, threads: i32): void {
  atomic.store<i32>(NEXT, 0);
  atomic.store<i32>(FAILED, 0);
  if (threads === 1) return;
  store<i32>(KIND, kind);
  store<i32>(SUBJECT, <i32>subject);
  store<i32>(THREADS, threads);
  atomic.add<i32>(EPOCH, 1);
  atomic.notify(EPOCH, threads);
}

/** Waits for a call after `seen`; its number, or `seen` where none came for a while. */
export function listen(seen: i32): i32 {
  for (let k = 0; k < SPINS; k++) {
    const now = atomic.load<i32>(EPOCH);
    if (now !== seen) return now;
  }
  atomic.wait<i32>(EPOCH, seen, PATIENCE_ns);
  return atomic.load<i32>(EPOCH);
}
export function calledFor(): i32 {
  return load<i32>(KIND);
}
export function calledAbout(): usize {
  return <usize>load<i32>(SUBJECT);
}
export function calledThreads(): i32 {
  return load<i32>(THREADS);
}
