import { evenDraws } from '../../kernel/numerics/even-draws.ts';
import { normalQuantile } from '../../kernel/numerics/normal.ts';
import type { Clay } from '../clay/clay.ts';
import { type ClayHistory, clayHistory } from '../clay/clay-history.ts';
import { shearFactor } from '../clay/sintering.ts';
import { hotterBy, type TemperatureHistory } from '../clay/temperature-history.ts';
import { coneStep_K } from '../kiln/cone-step.ts';
import { heatWork } from '../kiln/heat-work.ts';

/**
 * What is not known of clay and kiln, as a handful of trials. A trial never runs the wall again: a softer or heavier
 * clay, a hotter kiln and a larger piece are all other moments of the same film, so a trial costs one pass through its clay's history.
 */

/** How far off each may be: half the width that holds four cases in five. */
export interface Unknowns {
  /** Factor on the clay's softness. */
  readonly softness: number;
  /** At the peak, K; at lower heat in proportion, as a worn thermocouple or a cold corner would have it. */
  readonly kiln_K: number;
  /** Shares of the size. */
  readonly drying: number;
  readonly firing: number;
  /** Share of the weight. */
  readonly weight: number;
  /** Correlation of a softer clay with a hotter kiln; left out, they have nothing to do with each other. */
  readonly together?: number;
}

/** What was learned of a kiln together with its clay, in place of the guesses. */
export interface KilnKnown extends Pick<Unknowns, 'softness' | 'kiln_K'> {
  /** How much hotter than its schedule it gets at the peak. */
  readonly off_K: number;
  readonly together: number;
}

/** The kiln's part: thermocouple, controller, place in the kiln and hold together, in cones (a guess). */
export const KILN_OFF_CONES = 0.5;
/**
 * What each shrinkage may be off by as a share of the size, by how it is known (guesses). Measured ones together are
 * half a per cent, which is what pieces of one clay differ by as it is (common practice, no source).
 */
const SHRINKAGE_OFF = { guess: 0.01, published: 0.007, measured: 0.0035 } as const;
/** The same for the weight, from bone-dry density and loss on ignition (guesses). */
const DENSITY_OFF = { guess: 0.02, published: 0.015, measured: 0.005 } as const;
const LOSS_OFF = { guess: 0.01, published: 0.007, measured: 0.003 } as const;

export const unknownsOf = (clay: Clay, heat: TemperatureHistory, known?: KilnKnown): Unknowns => ({
  softness: known?.softness ?? clay.sagViscosity.factor80,
  kiln_K: known?.kiln_K ?? KILN_OFF_CONES * coneStep_K(heatWork(heat).reached),
  together: known?.together ?? 0,
  drying: SHRINKAGE_OFF[clay.dryingShrinkage.how],
  firing: SHRINKAGE_OFF[clay.firingShrinkage.how],
  weight: Math.hypot(DENSITY_OFF[clay.boneDryDensity.how], LOSS_OFF[clay.lossOnIgnition.how]),
});

/** One trial's clay and kiln against what they are taken to be. */
export interface Member {
  readonly softness: number;
  readonly kiln_K: number;
  readonly drySize: number;
  /** Added to the firing shrinkage, as a share of the dry length. */
  readonly firingShrinkage: number;
  readonly weight: number;
}

const TRIALS_AS_POWER_OF_2 = 4;
export const TRIALS = 2 ** TRIALS_AS_POWER_OF_2;
const SEED = 10;
/** A normal spread has four fifths within this many deviations. */
const DEVIATIONS_80 = normalQuantile(0.9);

/** The trials: normal in each unknown (softness and sizes in their logarithms), independent, always the same ones. */
export const drawMembers = (unknowns: Unknowns, bits = TRIALS_AS_POWER_OF_2, seed = SEED): Member[] =>
  evenDraws(bits, 5, seed).map((point) => {
    const [soft, free, dry, shrink, heavy] = point.map((u) => normalQuantile(u) / DEVIATIONS_80);
    const { together = 0 } = unknowns;
    const hot = together * soft + Math.sqrt(1 - together ** 2) * free;
    return {
      softness: unknowns.softness ** soft,
      kiln_K: unknowns.kiln_K * hot,
      drySize: (1 + unknowns.drying) ** dry,
      firingShrinkage: unknowns.firing * shrink,
      weight: (1 + unknowns.weight) ** heavy,
    };
  });

/** Where a trial ends up. */
export interface Moment {
  /** Reading of the nominal piece's clock at which it has this trial's shape, 1/Pa. */
  readonly clock: number;
  /** Fired length against the nominal bone-dry one. */
  readonly scale: number;
  /** Weight against the nominal: what is thrown is there whether it dries small or large. */
  readonly weight: number;
  /** By how much one more second at peak moves its clock on, 1/(Pa s). */
  readonly peakPace: number;
  /** Its clock against time, to look up when something happens. */
  readonly history: ClayHistory;
  /** The nominal piece's clock for each of its own. */
  readonly hurry: number;
}

/** This near the peak it is still at peak, K. */
const AT_PEAK_K = 0.5;

/** The pace of a clay's clock as it leaves the peak, 1/(Pa s): what a longer hold goes on with. */
const paceAtPeak = (history: ClayHistory): number => {
  const peak_K = history.temperature_K.reduce((a, b) => Math.max(a, b), 0);
  const i = history.temperature_K.findLastIndex((T) => T >= peak_K - AT_PEAK_K);
  return 1 / (history.viscosity_Pa_s[i]! * shearFactor(history.porosity[i]!) * history.linearScale[i]! ** 2);
};

/** The nominal firing as a moment: no trial, nothing off. */
export const nominalMoment = (history: ClayHistory): Moment => ({
  clock: history.creepClockUnshrunk.at(-1)!,
  scale: history.linearScale.at(-1)!,
  weight: 1,
  peakPace: paceAtPeak(history),
  history,
  hurry: 1,
});

const MOST_SHRINKAGE_PERCENT = 30;

/** What a trial's clay goes through in its kiln. */
export const momentOf = (clay: Clay, heat: TemperatureHistory, member: Member): Moment => {
  const percent = clay.firingShrinkage.value_percent + 100 * member.firingShrinkage;
  const history = clayHistory(
    {
      ...clay,
      firingShrinkage: {
        ...clay.firingShrinkage,
        value_percent: Math.min(MOST_SHRINKAGE_PERCENT, Math.max(0, percent)),
      },
      sagViscosity: { ...clay.sagViscosity, value_Pa_s: clay.sagViscosity.value_Pa_s / member.softness },
    },
    hotterBy(heat, member.kiln_K),
  );
  // dX/dc = W(X) goes as density times span squared: a piece λ times as large in all its lengths and μ times as heavy
  // has μ/λ³ of the density, and its shape, in its own lengths, runs λμ/λ³ times as fast.
  const hurry = member.weight / member.drySize ** 2;
  const nominal = nominalMoment(history);
  return {
    clock: hurry * nominal.clock,
    scale: member.drySize * nominal.scale,
    weight: member.weight,
    peakPace: hurry * nominal.peakPace,
    history,
    hurry,
  };
};
