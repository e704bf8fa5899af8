import { AfterfireError } from '../../error.ts';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { CreepStep } from '../../kernel/shell/creep.ts';
import { type FilmStep, positionsAt, wallAt } from '../../kernel/shell/film.ts';
import type { TemperatureHistory } from '../clay/temperature-history.ts';
import type { FormMesh } from '../form/mesh-form.ts';
import { bandsOf } from './bands.ts';
import { type CoarseFilm, filmUntil, meetsAt, touchesAt, within } from './coarse-film.ts';
import { drawMembers, KILN_OFF_CONES, type Moment, momentOf, nominalMoment, unknownsOf } from './ensemble.ts';
import type { Bands, Estimate, FiringInput, FiringProgress, Margin, Trials } from './firing.ts';
import { furthest, MARGIN_MOVES_m, MOST_MINUTES, marginOf } from './margin.ts';
import { numericalErrors } from './numerical-error.ts';
import { sizeOf } from './outcome.ts';
import { type Placed, setOnShelf } from './placed.ts';
import { type Readings, readShape } from './reading.ts';
import { rimName, rimNodes } from './rim.ts';
import type { SetDown } from './set-down.ts';
import { type Softening, type SofteningPlan, softDensity } from './soften.ts';
import { proportion, spreadOf, type Trial } from './spread.ts';

/**
 * How sure the firing is: one coarse run goes on past the end; trials of what is not known and further minutes at peak
 * are moments of it.
 */

const COARSE_TRIANGLES = 900;
const FEWEST_TRIANGLES = 200;
/** Coarse enough to tell a difference. */
const COARSER = 0.5;
/** The coarse run only feeds intervals and may step boldly: part of the size of the piece. */
const COARSE_TOLERANCE = 3e-4;
/** Steps at least in the firing as it is. */
const LEAST_STEPS = 8;

/** The piece as a mesh set on the shelf. */
export interface OnShelf {
  readonly mesh: FormMesh;
  readonly down: SetDown;
}

/** Runs a piece's soft part as plan says; the caller knows setting, clay and engine. */
export type Soften = (
  piece: OnShelf,
  plan: Pick<SofteningPlan, 'clockEnd' | 'tolerance_m' | 'longest'>,
) => Generator<CreepStep, Softening, void>;

/** The fine run's outcome, which the intervals are for. */
export interface Outcome {
  readonly placed: Placed;
  readonly fired: WallMesh;
  readonly steps: readonly FilmStep[];
  readonly readings: Readings;
  readonly stepError_m: number;
}

export interface Sureness {
  readonly estimates: Record<string, Estimate>;
  readonly bands: Bands;
  readonly margin: Margin;
  readonly trials: Trials;
  readonly moments: readonly Moment[];
}

/** What each trial's clay goes through; no wall is run for it. */
export const trialsOf = (input: FiringInput, heat: TemperatureHistory): Moment[] =>
  drawMembers(unknownsOf(input.clay, heat, input.known)).map((member) => momentOf(input.clay, heat, member));

/** What the intervals are made of, to stand after a colon. */
export const whyOf = (input: FiringInput, heat: TemperatureHistory): string => {
  const { clay, setting } = input;
  const u = unknownsOf(clay, heat, input.known);
  const given = clay.sagViscosity.how === 'guess' ? 'a guess' : clay.sagViscosity.how;
  const how = input.known ? 'learned from fired pieces, walls not as drawn included' : given;
  const cones = KILN_OFF_CONES === 0.5 ? 'half a cone' : `${KILN_OFF_CONES} cones`;
  const kiln = `±${Math.round(u.kiln_K)} °C`;
  const size = (100 * Math.hypot(u.drying, u.firing)).toFixed(1);
  const rough =
    setting.props.length > 0 || setting.hotSide
      ? '; props and a hot side are taken to be the same for every clay, which is nearly so'
      : '';
  return (
    `four in five come out in here if softness is known within a factor of ${Number(u.softness.toFixed(2))} (${how}), the kiln within ` +
    `${input.known ? `${kiln} (learned)` : `${cones} or ${kiln} (a guess)`}, ` +
    `size within ±${size} % and weight within ±${(100 * u.weight).toFixed(1)} % (guesses), ` +
    `and the error of the calculation added${rough}`
  );
};

/** Reads a film as the fine run's last shape was read. */
const readerOf = (placed: Placed, film: OnShelf & { readonly steps: readonly FilmStep[] }) => {
  const density = softDensity(placed.input.clay);
  return (moment: Moment): Readings =>
    readShape(
      { ...placed, mesh: film.mesh, down: film.down, scale: moment.scale },
      positionsAt(film.steps, moment.clock),
      wallAt(film.steps, moment.clock),
      (density * moment.weight) / moment.scale ** 3,
    ).readings;
};

/**
 * The piece on fewer triangles, with the openings and flutes of the fine one; on as many where fewer would not show those, or would
 * not stand as it does. A whole wall's film says nothing of a pierced one: ± 130 g of a vase's 340.
 */
const coarsePiece = ({ input, mesh }: Placed): OnShelf => {
  const half = Math.round(COARSER * input.triangles);
  const missing = (m: FormMesh): number => m.tooFine.length + (m.carved?.leftOut.length ?? 0);
  for (const wish of [Math.min(COARSE_TRIANGLES, half), half])
    try {
      const piece = setOnShelf(input, Math.max(FEWEST_TRIANGLES, wish), !mesh.carved?.leftOut.length);
      if (missing(piece.mesh) === missing(mesh)) return piece;
    } catch (e) {
      if (!(e instanceof AfterfireError)) throw e;
    }
  return setOnShelf(input, input.triangles);
};

function* filmFor(
  b: Placed,
  soften: Soften,
  nominal: Moment,
  moments: readonly Moment[],
  progress: (share: number) => FiringProgress,
): Generator<FiringProgress, CoarseFilm, void> {
  const piece = coarsePiece(b);
  const rim = rimNodes(piece.mesh, b.input.setting.attitude);
  const all = [nominal, ...moments];
  const least = Math.max(...all.map((m) => m.clock));
  const most = Math.max(...all.map((m) => m.clock + 60 * MOST_MINUTES * m.peakPace));
  // Up to twice over, should the fine mesh move less than this one.
  const wanted_m = (2 * MARGIN_MOVES_m) / nominal.scale;
  return yield* filmUntil(
    piece,
    soften(piece, {
      clockEnd: most,
      tolerance_m: COARSE_TOLERANCE * sizeOf(piece.down.positions),
      // The far end is many firings away, and what matters most, pores closing, is over in the first.
      longest: (clock) => Math.max(nominal.clock / LEAST_STEPS, clock / 2),
    }),
    {
      least,
      most,
      moved: (from, now) => furthest(rim, from.positions, now.positions) > wanted_m,
    },
    progress,
  );
}

/** Intervals, bands and margin of a piece that came through. */
export function* howSure(
  outcome: Outcome,
  heat: TemperatureHistory,
  soften: Soften,
  progress: (share: number) => FiringProgress,
): Generator<FiringProgress, Sureness, void> {
  const { placed, readings: fine } = outcome;
  const { input, history } = placed;
  const nominal = nominalMoment(history);
  const moments = trialsOf(input, heat);
  const film = yield* filmFor(placed, soften, nominal, moments, progress);
  const read = readerOf(placed, film);
  const readFine = readerOf(placed, { ...placed, steps: outcome.steps });
  const coarse = read(nominal);
  // Trials stiffer than nominal are in the fine run's own film.
  const trial = (m: Moment): Trial =>
    m.clock <= nominal.clock
      ? { readings: readFine(m), against: fine }
      : { readings: read(m), against: coarse };
  const triangles = placed.mesh.triangles.length / 3;
  const numerical = numericalErrors({
    fine,
    coarse,
    ratio: placed.mesh.triangles.length / film.mesh.triangles.length,
    triangles,
    plain: input.form.alterations.length === 0 && input.form.carving.length === 0,
    stepError_m: outcome.stepError_m,
  });
  const lost = moments.filter((m) => !within(film, m.clock)).length;
  const touch = input.setting.attitude === 'upright' ? touchesAt(film, film.mesh.lipNodes) : undefined;
  const reaching = (clock: number | undefined): number =>
    clock === undefined ? 0 : moments.filter((m) => m.clock >= clock).length;
  const trials = {
    count: moments.length,
    fell: film.end === 'fell' ? lost : 0,
    met: reaching(meetsAt(film)),
    touched: reaching(touch),
  };
  const short = lost > 0 ? `; ${lost} of ${moments.length} trials only as far as they could be followed` : '';
  const why = whyOf(input, heat) + short;
  const by = proportion(fine.greatestSag_m, coarse.greatestSag_m);
  const unsure = fine.greatestSag_m > 0 ? numerical.greatestSag_m / fine.greatestSag_m : 0;
  const { attitude } = input.setting;
  const rim = rimNodes(film.mesh, attitude);
  return {
    estimates: spreadOf(fine, moments.map(trial), numerical, why),
    bands: bandsOf(outcome.fired, placed.down.positions, outcome.steps, film, nominal, moments, by, why),
    margin: marginOf(film, rim, rimName(attitude), nominal, moments, by, unsure),
    trials,
    moments,
  };
}

/** The trials of a piece that fell: how many reach the clock at which it did. */
export const whoFell = (
  input: FiringInput,
  heat: TemperatureHistory,
  fellAtClock: number,
  how: 'fell' | 'met',
): { readonly trials: Trials; readonly moments: readonly Moment[] } => {
  const moments = trialsOf(input, heat);
  const reached = moments.filter((m) => m.clock >= fellAtClock).length;
  const trials = {
    count: moments.length,
    fell: how === 'fell' ? reached : 0,
    met: how === 'met' ? reached : 0,
    touched: 0,
  };
  return { trials, moments };
};
