import { badInput, badInputs } from '../../../error.ts';
import { normalQuantile } from '../../../kernel/numerics/normal.ts';
import type { Clay } from '../clay.ts';
import { hotterBy, type TemperatureHistory } from '../temperature-history.ts';
import { barTable } from './bar-table.ts';
import { readAt_m, readBar, type SagReading } from './read-bar.ts';
import { barFaults, type SagBar } from './sag-bar.ts';
import { lnBar, type TabledBar } from './sag-likelihood.ts';
import { bestKnownAt_C, type Softness, softnessPosterior, viscosityAt } from './softness-grid.ts';

/** Several bars, fired alike or not: how soft the clay is and how that goes with the heat. */

export interface BarFiring {
  readonly name: string;
  readonly heat: TemperatureHistory;
  /** How much hotter the ware got at the peak than `heat` says, four times in five within; by witness cones, say. */
  readonly offset?: { readonly hotter_K: number; readonly plusMinus80_K: number } | undefined;
}

export interface SagFinding {
  readonly readings: readonly SagReading[];
  /** Counted from the clay as it was. */
  readonly belief: Softness;
  /** Bars that the others, or the clay as believed before, do not agree with, in words. */
  readonly contradictions: readonly string[];
  /** By how much the bars scatter more than their measures allow; 1 where they do not. Intervals are wider by it. */
  readonly wider: number;
  /** The clay with the sag viscosity as now believed; all else, and the clay given, as it was. */
  readonly clay: Clay;
  /** What is new, in words. */
  readonly changed: readonly string[];
  readonly notes: readonly string[];
}

export interface SagOptions {
  /** Names of bars that are read but do not count. */
  readonly leaveOut?: readonly string[];
  /** Of one firing from the next, at the peak, K, standard deviation. */
  readonly firingScatter_K?: number;
}

const DEVIATIONS_80 = normalQuantile(0.9);
/** Firings of one kiln by one schedule differ by this (a guess; learning from pieces takes the same). */
const FIRING_SCATTER_K = 2.3;
/** How sure an activation energy is before bars, kJ/mol, sd, by how it is known: 300 to 600 is the range met with (from memory). */
const ACTIVATION_SD = { guess: 75, published: 50, measured: 30 } as const;
const OFFSETS = 7;
const ODD = 3;
/** A single bar may differ from a clay nobody measured by more: the guess is one. */
const ODD_FROM_BEFORE = 2.6;

interface FiredBar extends TabledBar {
  readonly firing: BarFiring;
  readonly reading: SagReading;
}

const checked = (bars: readonly SagBar[], firings: readonly BarFiring[]): void => {
  if (bars.length === 0) throw badInput('sagBars', '[]', 'at least one bar');
  const faults = bars.flatMap((bar, i) => {
    const here = barFaults(bar).map((f) => ({ ...f, field: `sagBars[${i}].${f.field}` }));
    if (firings.some((f) => f.name === bar.firing)) return here;
    const expected = `one of ${firings.map((f) => f.name).join(', ')}`;
    return [...here, { field: `sagBars[${i}].firing`, value: bar.firing, expected }];
  });
  if (faults.length > 0) throw badInputs(faults);
};

const scatterOf = (firing: BarFiring, options: SagOptions): number =>
  firing.offset ? firing.offset.plusMinus80_K / DEVIATIONS_80 : (options.firingScatter_K ?? FIRING_SCATTER_K);

/** ln likelihood of all bars, each firing's own offset summed over. */
const likelihoodOf = (bars: readonly FiredBar[], options: SagOptions, wider: number) => {
  const groups = [...new Set(bars.map((b) => b.firing))].map((firing) => ({
    members: bars.filter((b) => b.firing === firing),
    sd_K: scatterOf(firing, options),
  }));
  return (softness: number, activation: number): number => {
    let sum = 0;
    for (const { members, sd_K } of groups) {
      const needed = members.map((b) => softness - b.table.shift(activation));
      let [most, total] = [Number.NEGATIVE_INFINITY, 0];
      for (let i = 0; i < OFFSETS; i++) {
        const z = 3 * ((2 * i) / (OFFSETS - 1) - 1);
        let ln = -0.5 * z * z;
        members.forEach((b, k) => {
          ln += lnBar(b, needed[k] + z * sd_K * b.table.perKelvin, wider);
        });
        if (ln > most) {
          total = total * Math.exp(most - ln) + 1;
          most = ln;
        } else total += Math.exp(ln - most);
      }
      sum += most + Math.log(total);
    }
    return sum;
  };
};

const beliefFrom = (clay: Clay, bars: readonly FiredBar[], options: SagOptions, wider: number): Softness => {
  const { activation_kJ_mol: q, factor80, how } = clay.sagViscosity;
  const prior = {
    sdSoftness: Math.max(0.02, Math.log(factor80) / DEVIATIONS_80),
    activation_kJ_mol: q,
    sdActivation_kJ_mol: ACTIVATION_SD[how],
    least_kJ_mol: 0.5 * q,
    most_kJ_mol: 1.7 * q,
  };
  const ridges = bars.map((b) => (b.table.shift(1.05 * q) - b.table.shift(0.95 * q)) / (0.1 * q));
  const ridge = ridges.length === 0 ? 0 : ridges.reduce((a, b) => a + b, 0) / ridges.length;
  return softnessPosterior(prior, likelihoodOf(bars, options, wider), ridge);
};

/** What is held of a clay before any bar, by how its file knows it. */
export const softnessBefore = (clay: Clay): Softness => beliefFrom(clay, [], {}, 1);

/** A value bar's departure from a belief, in standard deviations of both together; positive: softer. */
const departure = (bar: FiredBar, belief: Softness, options: SagOptions): number => {
  const q = belief.activation_kJ_mol;
  const slope = (bar.table.shift(1.02 * q) - bar.table.shift(0.98 * q)) / (0.04 * q);
  const { sdSoftness: a, sdActivation_kJ_mol: b, correlation } = belief;
  const known = a * a + slope * slope * b * b - 2 * slope * a * b * correlation;
  const own = bar.reading.sd ** 2 + (bar.table.perKelvin * scatterOf(bar.firing, options)) ** 2;
  const off = bar.reading.softness + bar.table.shift(q) - belief.softness;
  return off / Math.sqrt(Math.max(0, known) + own);
};

/** A bound is broken only on its own side. */
const odd = (bar: FiredBar, off: number, limit: number): boolean => {
  if (bar.reading.kind === 'no stiffer than') return off > limit;
  if (bar.reading.kind === 'no softer than') return off < -limit;
  return Math.abs(off) > limit;
};

const saidOf = (bar: FiredBar, off: number, others: string): string => {
  const side = off > 0 ? 'softer' : 'stiffer';
  const look =
    off > 0
      ? 'Was it thinner than written, in a hotter place, or was it knocked?'
      : 'Did it touch something, stick to its supports, or was it thicker than written?';
  return `Bar ${bar.bar.name} says ${side} than ${others}, by ${Math.abs(off).toFixed(1)} standard deviations. ${look}`;
};

/** Summed square departures of the bars that give a value from a belief, in their own standard deviations. */
const chiSquare = (values: readonly FiredBar[], belief: Softness, options: SagOptions): number => {
  const q = belief.activation_kJ_mol;
  return values.reduce((sum, b) => {
    const own = Math.hypot(b.reading.sd, b.table.perKelvin * scatterOf(b.firing, options));
    return sum + ((b.reading.softness + b.table.shift(q) - belief.softness) / own) ** 2;
  }, 0);
};

const valuesOf = (bars: readonly FiredBar[]): FiredBar[] => bars.filter((b) => b.reading.kind === 'value');

/** Birge's ratio: how much bars scatter about their own fit against what their measures allow; from three bars on. */
const scatterRatio = (bars: readonly FiredBar[], chi2: number): number => {
  const count = valuesOf(bars).length;
  return count < 3 ? 1 : Math.max(1, Math.sqrt(chi2 / (count - 1)));
};

const contradictionsIn = (
  clay: Clay,
  counted: readonly FiredBar[],
  options: SagOptions,
  chi2: number,
): string[] => {
  // A bar raises the sum of squares by the square of its own departure from the others: below 9 none is off by 3.
  if (counted.length > 2 && valuesOf(counted).length === counted.length && chi2 < 0.8 * ODD ** 2) return [];
  const before = beliefFrom(clay, [], options, 1);
  if (counted.length === 1) {
    const off = departure(counted[0], before, options);
    return odd(counted[0], off, ODD_FROM_BEFORE)
      ? [saidOf(counted[0], off, `the clay as believed before (${clay.sagViscosity.how})`)]
      : [];
  }
  // The belief held before is no witness against a bar that the other bars bear out.
  const open = { ...clay, sagViscosity: { ...clay.sagViscosity, factor80: 100 } };
  return counted.flatMap((bar) => {
    const others = counted.filter((b) => b !== bar);
    const off = departure(bar, beliefFrom(open, others, options, 1), options);
    if (!odd(bar, off, ODD)) return [];
    return [saidOf(bar, off, others.length === 1 ? `bar ${others[0].bar.name}` : 'the other bars')];
  });
};

const figures = (x: number, n: number): number => Number(x.toPrecision(n));

const renewed = (
  clay: Clay,
  belief: Softness,
  counted: readonly FiredBar[],
): Pick<SagFinding, 'clay' | 'changed'> => {
  const before = clay.sagViscosity;
  const peaks = counted.map((b) => b.reading.at_C);
  // Near the firings: far from them nothing is known better, only differently.
  const at_C = Math.round(
    Math.min(
      Math.max(...peaks, before.at_C),
      Math.max(Math.min(...peaks, before.at_C), bestKnownAt_C(belief, before)),
    ),
  );
  const now = viscosityAt(belief, before, at_C);
  const then = viscosityAt(
    { ...belief, softness: 0, activation_kJ_mol: before.activation_kJ_mol },
    before,
    at_C,
  );
  const activation_kJ_mol = Math.round(belief.activation_kJ_mol);
  const learned = belief.sdActivation_kJ_mol < 0.8 * ACTIVATION_SD[before.how];
  const names = counted.map((b) => b.bar.name).join(', ');
  const by = Math.round(DEVIATIONS_80 * belief.sdActivation_kJ_mol);
  const energy = learned
    ? `activation energy ±${by} from the bars`
    : `activation energy hardly from them: ±${by}`;
  const note = `Sag of ${counted.length === 1 ? 'bar' : 'bars'} ${names}, peaks ${[...new Set(peaks.map(Math.round))].join(', ')} °C, together with what was believed before (${before.how}: ${figures(before.value_Pa_s, 3)} Pa·s at ${before.at_C} °C); ${energy}`;
  const value_Pa_s = figures(now.value_Pa_s, 3);
  const factor80 = Math.min(100, Math.max(1.01, Number(now.factor80.toFixed(2))));
  const ratio = now.value_Pa_s / then.value_Pa_s;
  return {
    clay: {
      ...clay,
      sagViscosity: { value_Pa_s, at_C, activation_kJ_mol, factor80, how: 'measured', note },
    },
    changed: [
      `Sag viscosity at ${at_C} °C: ${value_Pa_s.toExponential(2)} Pa·s, four times in five within a factor ${factor80}; it was ${figures(then.value_Pa_s, 3).toExponential(2)} Pa·s (${before.how}, within a factor ${before.factor80} at ${before.at_C} °C), so the clay is ${ratio > 1 ? 'stiffer' : 'softer'} by a factor ${Math.max(ratio, 1 / ratio).toFixed(2)}.`,
      `Activation energy: ${activation_kJ_mol} ± ${by} kJ/mol${learned ? '' : ', nearly all of it from before: bars at peaks or holds further apart would tell'}; it was ${before.activation_kJ_mol} kJ/mol.`,
    ],
  };
};

const kilnNote = (firings: readonly BarFiring[], bars: readonly FiredBar[]): string[] => {
  const bare = firings.filter((f) => f.offset === undefined).map((f) => f.name);
  if (bare.length === 0) return [];
  const per10 = (Math.exp(10 * Math.max(...bars.map((b) => b.table.perKelvin))) - 1) * 100;
  return [
    `The thermometer is taken at its word in ${bare.join(', ')}: were the kiln 10 °C hotter than it said, the clay would really be ${Math.round(per10)} % stiffer. Witness cones beside the bars tell.`,
  ];
};

/**
 * Viscosity and activation energy from bars. The belief before is the clay's own (its `factor80`; activation ±75 kJ/mol,
 * standard deviation, for a guess, 50 published, 30 measured): do not give bars to a clay that already has them in it.
 * Pure; about 0.1 s a bar.
 * @throws AfterfireError `bad-input` for a bar that cannot be read, each field named
 */
export const sagViscosityFrom = (
  clay: Clay,
  bars: readonly SagBar[],
  firings: readonly BarFiring[],
  options: SagOptions = {},
): SagFinding => {
  checked(bars, firings);
  const fired = bars.map((bar): FiredBar => {
    const firing = firings.find((f) => f.name === bar.firing) as BarFiring;
    const heat = firing.offset ? hotterBy(firing.heat, firing.offset.hotter_K) : firing.heat;
    const table = barTable(clay, bar, heat, readAt_m(bar));
    return { bar, firing, table, reading: readBar(clay, bar, heat, table) };
  });
  const counted = fired.filter((b) => !options.leaveOut?.includes(b.bar.name));
  if (counted.length === 0)
    throw badInput('leaveOut', options.leaveOut, 'at least one bar that still counts');
  const first = beliefFrom(clay, counted, options, 1);
  const chi2 = chiSquare(valuesOf(counted), first, options);
  const wider = scatterRatio(counted, chi2);
  const belief = wider > 1 ? beliefFrom(clay, counted, options, wider) : first;
  return {
    readings: fired.map((b) => b.reading),
    belief,
    contradictions: contradictionsIn(clay, counted, options, chi2),
    wider,
    ...renewed(clay, belief, counted),
    notes: [
      ...fired.flatMap((b) => b.reading.notes),
      ...kilnNote(firings, fired),
      ...(wider > 1.5
        ? [
            `The bars scatter ${wider.toFixed(1)} times as much as their measures allow; the interval is wider by that.`,
          ]
        : []),
    ],
  };
};
