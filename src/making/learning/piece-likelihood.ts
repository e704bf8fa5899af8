import { normalBelow } from '../../kernel/numerics/normal.ts';
import { expected, readable } from './expected.ts';
import type { FilmTable, PieceEvidence } from './learning-log.ts';
import { FREEDOM, lnOff } from './robust.ts';

/**
 * How likely a piece is to have come out as it did, as ln against the ln of its own creep clock. Constants that do not
 * hang on what is to be learned are left out.
 */

/** How sharply the moment of a fall is known, ln of the clock, sd: walls, a nudge, the mesh (a guess). */
const FALL_SD = 0.2;
/** Of so many pieces one is lost, or saved, for another reason than the one written down (a guess). */
const ANOTHER_REASON = 0.01;

/** Chance that what happens at `at` (never, where undefined, up to `reach`) has happened by this clock. */
const happened = (at: number | undefined, reach: number, lnClock: number): number =>
  // Beyond its reach a film does not know: then as likely as not.
  at === undefined ? 0.5 * normalBelow((lnClock - reach) / FALL_SD) : normalBelow((lnClock - at) / FALL_SD);

const EVENTS = {
  'fell over': (f: FilmTable) => f.falls,
  'lip on the shelf': (f: FilmTable) => f.touches,
  'wall on wall': (f: FilmTable) => f.meets,
} as const;

/** ln of the chance of its fate at a clock. */
const lnFate = ({ film, loss }: PieceEvidence): ((lnClock: number) => number) => {
  const chance = (at: number | undefined, lnClock: number): number => happened(at, film.reach, lnClock);
  if (loss === undefined)
    return (u) => Math.log(ANOTHER_REASON + (1 - ANOTHER_REASON) * (1 - chance(film.falls, u)));
  // Cracked, stuck and the like say nothing of softness.
  if (!(loss in EVENTS)) return () => 0;
  const at = EVENTS[loss as keyof typeof EVENTS](film);
  return (u) => Math.log(ANOTHER_REASON + (1 - ANOTHER_REASON) * chance(at, u));
};

const dueOn = (film: FilmTable, key: string, lnClocks: Float64Array): Float64Array => {
  const at = expected(film, key);
  return lnClocks.map((u) => at(u, 0));
};

/**
 * ln likelihood of one piece on readings of its own clock, for any size.
 * @param freedom of the errors (see `robust.ts`)
 */
export const lnPiece = (
  piece: PieceEvidence,
  lnClocks: Float64Array,
  freedom = FREEDOM,
): ((size: number) => Float64Array) => {
  const fates = lnClocks.map(lnFate(piece));
  // What lies in a heap is not measured.
  const told = piece.loss === 'fell over' ? [] : readable(piece.film, piece.readings);
  const each = told.map((r) => ({
    ...r,
    lever: piece.film.levers[r.key] ?? 0,
    due: dueOn(piece.film, r.key, lnClocks),
  }));
  return (size) => {
    const by = Math.exp(size);
    const sums = fates.slice();
    for (const { value_mm, sd_mm, lever, due } of each) {
      const seen = value_mm + (by - 1) * lever;
      for (let i = 0; i < sums.length; i++) sums[i] += lnOff((seen - by * due[i]) / sd_mm, freedom);
    }
    return sums;
  };
};

/** Evenly spaced ln values smoothed by a normal spread of `sd` (in the argument): the piece's own scatter integrated out. */
export const smoothed = (ln: Float64Array, step: number, sd: number): Float64Array => {
  if (sd < 0.2 * step) return ln;
  const far = Math.ceil((4 * sd) / step);
  const kernel = Float64Array.from({ length: 2 * far + 1 }, (_, i) =>
    Math.exp(-0.5 * (((i - far) * step) / sd) ** 2),
  );
  const total = kernel.reduce((a, b) => a + b, 0);
  const most = ln.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const plain = ln.map((x) => Math.exp(x - most));
  const out = new Float64Array(ln.length);
  const last = ln.length - 1;
  for (let i = 0; i <= last; i++) {
    let sum = 0;
    for (let k = -far; k <= far; k++) sum += kernel[k + far] * plain[Math.min(last, Math.max(0, i + k))];
    out[i] = most + Math.log(Math.max(sum / total, 1e-300));
  }
  return out;
};
