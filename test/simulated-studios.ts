import { normalQuantile } from '../src/kernel/numerics/normal.ts';
import { parseClay } from '../src/making/clay/clay.ts';
import { clayHistory } from '../src/making/clay/clay-history.ts';
import { type Moment, momentOf } from '../src/making/firing/ensemble.ts';
import { parseSchedule, temperatureHistory } from '../src/making/kiln/schedule.ts';
import type { Belief } from '../src/making/learning/belief.ts';
import { paceOf, readingsOf } from '../src/making/learning/evidence.ts';
import { DEVIATIONS_80, expected } from '../src/making/learning/expected.ts';
import type { Evidence, FilmTable, PieceEvidence } from '../src/making/learning/learning-log.ts';
import { FIRING_SCATTER_K, posterior } from '../src/making/learning/posterior.ts';
import { predictedReading } from '../src/making/learning/predict.ts';
import { newLearningLog, unknownKiln } from '../src/making/learning/start.ts';
import type { Measured } from '../src/making/learning/unloading.ts';
import { GRAVITY_m_s2 } from '../src/units.ts';
import { dice, oneOf } from './dice.ts';

/**
 * Studios that never were, of which the truth is known: each has its own clay, kilns and hand, fires, measures with
 * errors, and learns. What is true is made otherwise than what is learned with: on a mesh of twice the triangles and
 * more, with walls really thrown thicker or thinner (the learner only knows a scatter), a clay whose activation energies
 * and sintering are its own, and each firing worked out for its own heat.
 */

/** Films of one form in one setting. */
export interface DemoPiece {
  readonly form: string;
  readonly attitude: string;
  /** What the learner runs. */
  readonly learner: FilmTable;
  /** What is true: the wall a tenth thinner (in ln), as drawn, a tenth thicker. */
  readonly truth: readonly [FilmTable, FilmTable, FilmTable];
}
export const WALLS_LN = [-0.1, 0, 0.1] as const;

export interface Studios {
  readonly clay: unknown;
  readonly schedule: unknown;
  readonly pieces: readonly DemoPiece[];
}

/** How things are off, standard deviations but where said. Those not the learner's own priors are stated in docs/simulated-studios.md. */
export const TRUTH = {
  wall_ln: 0.05,
  activation_share: 0.1,
  sinteringRate_ln: 0.3,
  measuring80_mm: 0.5,
  size80_share: 0.01,
  oval80_share: 0.004,
  /** This share of readings is a slip of this many mm. */
  slips: 0.02,
  slip_mm: 10,
  cones80_K: 4,
  barThickness_mm: 0.08,
  barSpan_mm: 0.5,
  barSag_mm: 0.15,
} as const;
const BAR = { span_mm: 120, thickness_mm: 6 } as const;

type Normal = () => number;

const normalsOf = (seed: number): { readonly normal: Normal; readonly between: ReturnType<typeof dice> } => {
  const between = dice(Math.imul(seed + 1, 2654435761) ^ 0x5bd1e995);
  for (let i = 0; i < 8; i++) between(0, 1);
  return { between, normal: () => normalQuantile(Math.min(1 - 1e-9, Math.max(1e-9, between(0, 1)))) };
};

export interface Kitchen {
  readonly clay: ReturnType<typeof parseClay>;
  readonly heat: ReturnType<typeof temperatureHistory>;
  readonly refClock: number;
  readonly refScale: number;
  readonly pieces: readonly DemoPiece[];
  readonly pace: ReturnType<typeof paceOf>;
  readonly start: Belief;
}

export const kitchenOf = (s: Studios): Kitchen => {
  const clay = parseClay(s.clay);
  const heat = temperatureHistory(parseSchedule(s.schedule));
  const history = clayHistory(clay, heat);
  return {
    clay,
    heat,
    refClock: history.creepClockUnshrunk.at(-1) as number,
    refScale: history.linearScale.at(-1) as number,
    pieces: s.pieces,
    pace: paceOf(clay, heat),
    start: newLearningLog(clay, heat).start,
  };
};

interface World {
  readonly kitchen: Kitchen;
  readonly normal: Normal;
  readonly between: ReturnType<typeof dice>;
  /** What a firing off by so much does to this studio's clay. */
  readonly fired: (kiln_K: number) => Moment;
  readonly kilns: Readonly<Record<'big' | 'small', number>>;
}

const worldOf = (kitchen: Kitchen, seed: number): World => {
  const { normal, between } = normalsOf(seed);
  const { clay, heat } = kitchen;
  const own = {
    ...clay,
    sintering: {
      ...clay.sintering,
      rate_per_h: clay.sintering.rate_per_h * Math.exp(TRUTH.sinteringRate_ln * normal()),
      activation_kJ_mol: clay.sintering.activation_kJ_mol * (1 + TRUTH.activation_share * normal()),
    },
    sagViscosity: {
      ...clay.sagViscosity,
      activation_kJ_mol: clay.sagViscosity.activation_kJ_mol * (1 + TRUTH.activation_share * normal()),
    },
  };
  // What the clay file leaves open, as the firing's own trials take it.
  const softness = clay.sagViscosity.factor80 ** (normal() / DEVIATIONS_80);
  const drySize = 1.01 ** (normal() / DEVIATIONS_80);
  const firingShrinkage = (0.01 * normal()) / DEVIATIONS_80;
  const weight = 1.022 ** (normal() / DEVIATIONS_80);
  const sd_K = unknownKiln('').sd_K;
  return {
    kitchen,
    normal,
    between,
    fired: (kiln_K) => momentOf(own, heat, { softness, kiln_K, drySize, firingShrinkage, weight }),
    kilns: { big: sd_K * normal(), small: sd_K * normal() },
  };
};

/** A true reading: the films for three walls, a parabola between them. */
const trueReading = (piece: DemoPiece, key: string, lnClock: number, size: number, wall: number): number => {
  const y = piece.truth.map((film) => expected(film, key)(lnClock, size));
  const t = wall / WALLS_LN[2];
  return y[1] + (t * (y[2] - y[0])) / 2 + (t * t * (y[2] - 2 * y[1] + y[0])) / 2;
};

interface Thrown {
  readonly piece: DemoPiece;
  readonly kiln: 'big' | 'small';
  readonly at: (key: string) => number;
  /** The same for a wall as drawn, in a firing that is off as its kiln usually is: the best anybody could foretell. */
  readonly usual: (key: string) => number;
}

const throwAndFire = (
  w: World,
  kiln: 'big' | 'small',
  moment: Moment,
  pieces: readonly DemoPiece[],
): Thrown => {
  const piece = oneOf(w.between, pieces);
  const wall = TRUTH.wall_ln * Math.min(2.6, Math.max(-2.6, w.normal()));
  const { refClock, refScale } = w.kitchen;
  const usual = w.fired(w.kilns[kiln]);
  const read = (m: Moment, key: string, by: number): number =>
    trueReading(piece, key, Math.log(m.clock / refClock), Math.log(m.scale / refScale), by);
  return { piece, kiln, at: (key) => read(moment, key, wall), usual: (key) => read(usual, key, 0) };
};

const measured = (w: World, { piece, at }: Thrown): Measured => {
  const hand = (): number => {
    const slip = w.between(0, 1) < TRUTH.slips ? TRUTH.slip_mm * (w.between(0, 1) < 0.5 ? -1 : 1) : 0;
    return (TRUTH.measuring80_mm / DEVIATIONS_80) * w.normal() + slip;
  };
  const drawn = (share80: number, of: number): number => (share80 / DEVIATIONS_80) * of * w.normal();
  const lip = piece.learner.readings['lip mean'][0];
  const mean = at('lip mean') + drawn(TRUTH.size80_share, lip);
  const oval = at('lip oval') + drawn(TRUTH.oval80_share, lip);
  const tenth = (x: number): number => Number(x.toFixed(1));
  const [wide, narrow] = [tenth(mean + oval / 2 + hand()), tenth(mean - oval / 2 + hand())];
  const height = at('height');
  return {
    plusMinus_mm: TRUTH.measuring80_mm,
    height_mm: tenth(height + drawn(TRUTH.size80_share, height) + hand()),
    lipWidth: { greatest_mm: Math.max(wide, narrow), least_mm: Math.min(wide, narrow) },
    // Rim down the lip lies on the shelf.
    ...(piece.attitude !== 'rim down' && {
      lipDrop: { greatest_mm: tenth(at('drop greatest') + hand()) },
    }),
  };
};

const unloading = (w: World, kiln: 'big' | 'small', count: number): Evidence => {
  const moment = w.fired(w.kilns[kiln] + FIRING_SCATTER_K * w.normal());
  const pieces = Array.from({ length: count }, (_, i): PieceEvidence => {
    const thrown = throwAndFire(w, kiln, moment, w.kitchen.pieces);
    const film = thrown.piece.learner;
    return {
      number: String(i + 1),
      form: thrown.piece.form,
      attitude: thrown.piece.attitude,
      film,
      readings: readingsOf(measured(w, thrown), film),
    };
  });
  return { kiln, pace: w.kitchen.pace, pieces };
};

/** Small sag between two supports: s = 5 ρ g L⁴/(96 h²) ∫dt/η. */
const barSag_m = (clock_per_Pa: number, density: number, span_m: number, thickness_m: number): number =>
  ((5 * density * GRAVITY_m_s2 * span_m ** 4) / (96 * thickness_m ** 2)) * clock_per_Pa;

/** A bar in a firing of its own in the big kiln, beside witness cones or not. */
const bar = (w: World, cones: boolean): Evidence => {
  const own_K = w.kilns.big + FIRING_SCATTER_K * w.normal();
  const moment = w.fired(own_K);
  const density = w.kitchen.clay.firedDensity.value_kg_m3;
  const span_m = BAR.span_mm / 1000;
  const thickness_m = BAR.thickness_mm / 1000;
  const sag = barSag_m(moment.clock, density, span_m, thickness_m) + (TRUTH.barSag_mm / 1000) * w.normal();
  const readSpan = span_m + (TRUTH.barSpan_mm / 1000) * w.normal();
  const readThickness = thickness_m + (TRUTH.barThickness_mm / 1000) * w.normal();
  const usual = barSag_m(w.kitchen.refClock, density, readSpan, readThickness);
  const sd = Math.hypot(
    (2 * TRUTH.barThickness_mm) / BAR.thickness_mm,
    (4 * TRUTH.barSpan_mm) / BAR.span_mm,
    TRUTH.barSag_mm / 1000 / Math.max(sag, 0.0005),
  );
  const seen_K = own_K + (TRUTH.cones80_K / DEVIATIONS_80) * w.normal();
  return {
    kiln: 'big',
    pace: w.kitchen.pace,
    pieces: [],
    softness: { mean: Math.log(Math.max(sag, 0.0002) / usual), sd },
    ...(cones && { offset: { mean_K: seen_K, sd_K: TRUTH.cones80_K / DEVIATIONS_80 } }),
  };
};

export interface Claim {
  readonly what: string;
  readonly truth: number;
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

const claim = (what: string, truth: number, { mean, sd }: { mean: number; sd: number }): Claim => ({
  what,
  truth,
  low: mean - DEVIATIONS_80 * sd,
  middle: mean,
  high: mean + DEVIATIONS_80 * sd,
});

export interface Prediction extends Claim {
  readonly attitude: string;
  readonly form: string;
}

export interface Tale {
  readonly seed: number;
  readonly claims: readonly Claim[];
  readonly predictions: readonly Prediction[];
}

/** A clay's softness in the heat of a kiln: the kiln's usual offset put in. */
const inKiln = (b: Belief, kiln: string, perK: number): { mean: number; sd: number } => {
  const k = b.kilns.find(({ name }) => name === kiln) ?? unknownKiln(kiln);
  const mean = b.softness.mean + perK * k.mean_K;
  const square =
    b.softness.sd ** 2 + (perK * k.sd_K) ** 2 + 2 * perK * k.withSoftness * k.sd_K * b.softness.sd;
  return { mean, sd: Math.sqrt(square) };
};

const NEW_PIECES = 10;
/** Clay, kiln and mesh known exactly; only walls and the one firing are not. */
export const BEST = 'lip drop if clay and kilns were known';

/** What a studio has learned from, and what is to be claimed then. */
const STAGES = {
  'three bars': { bars: 'bare', pieces: false },
  'three bars with cones': { bars: 'coned', pieces: false },
  'ten pieces': { bars: 'none', pieces: true },
  'bars, cones and ten pieces': { bars: 'coned', pieces: true },
} as const;
export type Stage = keyof typeof STAGES;
export const ALL_STAGES = Object.keys(STAGES) as Stage[];

const claimsOf = (w: World, stage: Stage, belief: Belief): Claim[] => {
  const { refClock, refScale, pace } = w.kitchen;
  const lnOf = (K: number): number => Math.log(w.fired(K).clock / refClock);
  const perK = (pace.lnClock[pace.offset_K.indexOf(6)] ?? 0) / 6;
  const of = (what: string, truth: number, b: { mean: number; sd: number }): Claim =>
    claim(`${stage}: ${what}`, truth, b);
  return [
    of('softness', lnOf(0), belief.softness),
    of('softness in the big kiln', lnOf(w.kilns.big), inKiln(belief, 'big', perK)),
    ...(STAGES[stage].pieces ? [of('size', Math.log(w.fired(0).scale / refScale), belief.size)] : []),
    ...belief.kilns.map((k) =>
      of(`the ${k.name} kiln`, w.kilns[k.name as 'big'], { mean: k.mean_K, sd: k.sd_K }),
    ),
  ];
};

/** A new piece in a new firing, and what each belief has its lip drop. */
const newPiece = (w: World, beliefs: ReadonlyMap<string, Belief>): Prediction[] => {
  const kiln = oneOf(w.between, ['big', 'small'] as const);
  const moment = w.fired(w.kilns[kiln] + FIRING_SCATTER_K * w.normal());
  const free = w.kitchen.pieces.filter((p) => p.attitude !== 'rim down');
  const thrown = throwAndFire(w, kiln, moment, free);
  const { form, attitude, learner } = thrown.piece;
  const what = { form, attitude, truth: thrown.at('drop greatest') };
  const best = thrown.usual('drop greatest');
  const reading = { key: 'drop greatest', sd_mm: 1e-6 };
  return [
    { ...what, what: BEST, low: Number.NaN, middle: best, high: Number.NaN },
    ...[...beliefs].map(([stage, belief]) => {
      const at = predictedReading(learner, w.kitchen.pace, belief, kiln, reading);
      return {
        ...what,
        what: `lip drop after ${stage}`,
        low: at.low_mm,
        middle: at.middle_mm,
        high: at.high_mm,
      };
    }),
  ];
};

/** One studio from its first bar to its twentieth piece, as far as these stages go. */
export const taleOf = (kitchen: Kitchen, seed: number, stages: readonly Stage[] = ALL_STAGES): Tale => {
  const w = worldOf(kitchen, seed);
  const bars = {
    none: [],
    bare: [1, 2, 3].map(() => bar(w, false)),
    coned: [1, 2, 3].map(() => bar(w, true)),
  };
  const unloadings = [unloading(w, 'big', 5), unloading(w, 'small', 5)];
  const beliefs = new Map(
    stages.map((stage): [Stage, Belief] => {
      const { bars: which, pieces } = STAGES[stage];
      return [stage, posterior(kitchen.start, [...bars[which], ...(pieces ? unloadings : [])])];
    }),
  );
  const claims = [...beliefs].flatMap(([stage, belief]) => claimsOf(w, stage, belief));
  const foretelling = new Map<string, Belief>([
    ['nothing', kitchen.start],
    ...[...beliefs].filter(([stage]) => STAGES[stage].pieces),
  ]);
  const predictions = Array.from({ length: NEW_PIECES }, () => newPiece(w, foretelling)).flat();
  return { seed, claims, predictions };
};

/** Share of claims whose truth lies inside. */
export const coverage = (claims: readonly Claim[]): number =>
  claims.filter((c) => c.truth >= c.low && c.truth <= c.high).length / claims.length;
