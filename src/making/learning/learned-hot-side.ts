import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import type { ClayHistory } from '../clay/clay-history.ts';
import type { FiringProgress } from '../firing/firing.ts';
import { DEVIATIONS_80, expected } from './expected.ts';
import { type LearningLog, type PieceEvidence, standingEntries } from './learning-log.ts';
import { type PieceInput, pieceFilm } from './piece-film.ts';
import { weightOf } from './robust.ts';

/**
 * A kiln's hot side from how its pieces lean. Lean goes straight with a small difference in heat, so one film with a known
 * difference gives mm a degree, and the difference is what suits all leans best: normal prior, straight model, so the answer
 * is closed; readings that far miss are weighted down as Student's t would (iterated reweighting, Lange and others 1989).
 */

/** Pieces lean by as much from the making, four in five, mm (a guess). */
const AS_MADE_80_mm = 1;
/** Across a piece a kiln is rarely more uneven than this, °C, standard deviation of either direction (a guess). */
const UNEVEN_SD_C = 15;
const TRIED_C = 10;
const ROUNDS = 10;
/**
 * Where nothing is hotter, leans as made still add up to something: two normal errors, whose sum in any direction is below
 * this many of their deviations four times in five (J. W. Strutt, Lord Rayleigh, 1880: √(−2 ln 0.2)).
 */
const BY_CHANCE = Math.sqrt(-2 * Math.log(0.2));

/** How far a piece leans towards a side hotter by one °C, mm; negative: away from it. */
export function* leanPerDegree(
  input: PieceInput,
  history: ClayHistory,
  /** ln of the clock believed for it. */
  lnClock: number,
  engine?: MakeEngine,
  triangles?: number,
): Generator<FiringProgress, number, void> {
  const hotSide = { difference_C: TRIED_C, towards_deg: 0 };
  const setting = { ...input.setting, hotSide };
  const wish = { keys: ['lip mean', 'lean x'], from_deg: 0 };
  const film = yield* pieceFilm(
    { ...input, setting },
    history,
    Math.max(0, lnClock) + 0.05,
    wish,
    engine,
    triangles,
  );
  return expected(film, 'lean x')(lnClock, 0) / TRIED_C;
}

/** What one piece says. */
export type LeanSeen = NonNullable<PieceEvidence['lean']>;

export interface LearnedHotSide {
  /** Hottest less coldest across a piece, with the 80 % interval. */
  readonly difference_C: number;
  readonly low_C: number;
  readonly high_C: number;
  readonly towards_deg: number;
  readonly pieces: number;
  /** A sentence, to show as it is. */
  readonly text: string;
}

const told = (s: Omit<LearnedHotSide, 'text'>): string => {
  const from = `${s.pieces} ${s.pieces === 1 ? 'piece' : 'pieces'}`;
  const span = `${s.low_C.toFixed(0)} to ${s.high_C.toFixed(0)} °C, four times in five`;
  if (s.low_C === 0) return `No hot side to be seen in how ${from} lean: ${span}.`;
  return `From how ${from} lean, the side at ${s.towards_deg.toFixed(0)}° is hotter by about ${s.difference_C.toFixed(0)} °C across a piece (${span}).`;
};

/** @param seen pieces of one kiln, each leaning in the kiln's own directions */
export const hotSideFrom = (seen: readonly LeanSeen[]): LearnedHotSide => {
  const pieces = seen.map((lean) => {
    const a = (lean.towards_deg * Math.PI) / 180;
    const sd = Math.hypot(lean.plusMinus_mm, AS_MADE_80_mm) / DEVIATIONS_80;
    return { x: lean.top_mm * Math.cos(a), y: lean.top_mm * Math.sin(a), k: lean.perDegree_mm, sd };
  });
  let [x, y, sd] = [0, 0, UNEVEN_SD_C];
  for (let round = 0; round < ROUNDS; round++) {
    let [precision, px, py] = [1 / UNEVEN_SD_C ** 2, 0, 0];
    for (const p of pieces) {
      const off = Math.hypot(p.x - p.k * x, p.y - p.k * y) / (Math.SQRT2 * p.sd);
      const w = (round === 0 ? 1 : weightOf(off)) / p.sd ** 2;
      precision += w * p.k ** 2;
      px += w * p.k * p.x;
      py += w * p.k * p.y;
    }
    [x, y, sd] = [px / precision, py / precision, 1 / Math.sqrt(precision)];
  }
  const difference_C = Math.hypot(x, y);
  const answer = {
    difference_C,
    low_C: difference_C < BY_CHANCE * sd ? 0 : difference_C - DEVIATIONS_80 * sd,
    high_C: difference_C + DEVIATIONS_80 * sd,
    towards_deg: ((Math.atan2(y, x) * 180) / Math.PI + 360) % 360,
    pieces: seen.length,
  };
  return { ...answer, text: told(answer) };
};

/** The hot side of a kiln by all pieces of it whose lean was measured; undefined where none was. */
export const hotSideOf = (log: LearningLog, kiln: string): LearnedHotSide | undefined => {
  const seen = standingEntries(log)
    .filter((e) => e.evidence.kiln === kiln)
    .flatMap((e) => e.evidence.pieces.flatMap((p) => p.lean ?? []));
  return seen.length > 0 ? hotSideFrom(seen) : undefined;
};
