import { badInput } from '../../../error.ts';
import { stretchAt, valueAt } from '../../../kernel/numerics/between.ts';
import { normalQuantile } from '../../../kernel/numerics/normal.ts';
import type { Clay } from '../clay.ts';
import { type ClayHistory, clayHistory } from '../clay-history.ts';
import { hotterBy, type TemperatureHistory } from '../temperature-history.ts';
import { type BoneDryBar, barCreep } from './bar-creep.ts';
import type { SagBar } from './sag-bar.ts';

/**
 * One bar in one heat: its sag against the softness of the clay, and what its measures leave open. `softness` is the ln
 * of how many times softer the clay is than its file says: a softer clay is a later reading of the creep clock.
 */

export interface BarTable {
  /** Sag in m at a softness; rises. Undefined where the bar has slid in between its supports. */
  readonly sagAt: (softness: number) => number | undefined;
  /** Softness that gives a sag; the ends of the table when beyond. */
  readonly softnessFor: (sag_m: number) => number;
  /** Softness at which the bar slides in, or hangs by 0.4 of its span: no bar is read further. */
  readonly slidesAt: number;
  /** What softness needs at another activation energy (kJ/mol), viscosity at the clay's reference temperature kept. */
  readonly shift: (activation_kJ_mol: number) => number;
  /** Standard deviation of the softness for span, length, thickness, density, friction and closing of pores as known. */
  readonly sd: number;
  /** Growth of the softness in this heat for a kiln one kelvin hotter at its peak. */
  readonly perKelvin: number;
  /** Share of the clock that ran while more than 1 % of the firing shrinkage was still to come. */
  readonly whileClosing: number;
}

const DEVIATIONS_80 = normalQuantile(0.9);
/** So stiff that the sag goes exactly as the clock. */
const VERY_STIFF = -9;
/** The table runs from this part of the span to that. */
const SMALL_SHARE = 0.002;
const MOST_SHARE = 0.4;
const STEP = 0.3;
/** Friction of clay on a washed support, and what it may be off by four times in five (guesses). */
export const USUAL_FRICTION = { value: 0.4, plusMinus: 0.2 } as const;
/** What a density is off by four times in five, by how it is known (the same guesses that firing's intervals take). */
const DENSITY_OFF = { guess: 0.02, published: 0.015, measured: 0.005 } as const;
/** What the pace at which pores close is off by, ln, four times in five: what sags while they do rests on it (guesses). */
const CLOSING_OFF = { guess: 0.4, published: 0.3, measured: 0.15 } as const;
const ACTIVATIONS = [0.5, 0.75, 1, 1.3, 1.7] as const;

/** The bar in bone-dry lengths, and its weight in bone-dry volume so that fired it weighs as the fired density says. */
const boneDry = (clay: Clay, bar: SagBar, history: ClayHistory): BoneDryBar => {
  const full = 1 - clay.firingShrinkage.value_percent / 100;
  const scale = bar.measured === 'fired' ? (history.linearScale.at(-1) as number) : 1;
  const m = (l_mm: number): number => l_mm / 1000 / scale;
  return {
    held: bar.held,
    span_m: bar.span_mm / 1000,
    edgeRadius_m: bar.edgeRadius_mm / 1000,
    length_m: m(bar.length_mm ?? bar.span_mm),
    thickness_m: m(bar.thickness_mm),
    density_kg_m3: clay.firedDensity.value_kg_m3 * full ** 3,
    friction: bar.held === 'by its ends' ? 0 : (bar.friction ?? USUAL_FRICTION.value),
  };
};

const sagIn = (bar: BoneDryBar, history: ClayHistory): ((softness: number) => number | undefined) => {
  const clock = history.creepClockUnshrunk.at(-1) as number;
  const scaleAt = (share: number): number =>
    valueAt(history.creepClockUnshrunk, history.linearScale, share * clock);
  return (softness) => barCreep(bar, clock * Math.exp(softness), scaleAt)?.sag_m;
};

/** Newton's steps from a start near by; `slope` is d ln sag/d softness there, 1 for small sags. */
const refined = (
  sagAt: (softness: number) => number | undefined,
  sag_m: number,
  start: number,
  slope: number,
): number => {
  let s = start;
  for (let k = 0; k < 3; k++) {
    const at = sagAt(s);
    if (at === undefined) return s;
    s += Math.log(sag_m / at) / slope;
  }
  return s;
};

/** The polynomial through a few points, of which it takes the exact values. */
const through =
  (xs: readonly number[], ys: readonly number[]) =>
  (x: number): number =>
    ys.reduce(
      (sum, y, i) => sum + y * xs.reduce((p, xj, j) => (j === i ? p : (p * (x - xj)) / (xs[i] - xj)), 1),
      0,
    );

interface Tabled {
  readonly softness: Float64Array;
  readonly lnSag: Float64Array;
  readonly slidesAt: number;
}

const tabled = (sagAt: (softness: number) => number | undefined, span_m: number): Tabled => {
  const softness: number[] = [];
  const lnSag: number[] = [];
  const note = (s: number, sag: number): void => {
    softness.push(s);
    lnSag.push(Math.log(sag));
  };
  const small = sagAt(VERY_STIFF) as number;
  let last = VERY_STIFF + Math.log((SMALL_SHARE * span_m) / small);
  let most = span_m * MOST_SHARE;
  for (let s = last; ; s += STEP) {
    const sag = sagAt(s);
    if (sag === undefined || sag > most) {
      most = Math.min(most, sag ?? most);
      break;
    }
    note(s, sag);
    last = s;
  }
  let [low, high] = [last, last + STEP];
  for (let k = 0; k < 6; k++) {
    const mid = (low + high) / 2;
    const sag = sagAt(mid);
    if (sag === undefined || sag > most) high = mid;
    else {
      low = mid;
      note(mid, sag);
    }
  }
  return { softness: Float64Array.from(softness), lnSag: Float64Array.from(lnSag), slidesAt: low };
};

/** Straight between the points of the ln, and below the table in proportion to the clock: small sags are. */
const lnSagAt = ({ softness: x, lnSag: y }: Tabled, s: number): number => {
  if (s <= x[0]) return y[0] + s - x[0];
  if (s >= x[x.length - 1]) return y[y.length - 1];
  const i = stretchAt(x, s);
  return y[i] + ((s - x[i]) / (x[i + 1] - x[i])) * (y[i + 1] - y[i]);
};

const softnessAt = ({ softness: x, lnSag: y }: Tabled, ln: number): number => {
  if (ln <= y[0]) return x[0] + ln - y[0];
  if (ln >= y[y.length - 1]) return x[x.length - 1];
  const i = stretchAt(y, ln);
  return x[i] + ((ln - y[i]) / (y[i + 1] - y[i])) * (x[i + 1] - x[i]);
};

/** Change of the softness read off the same sag when one measure is off by its four-in-five. */
const spreadOf = (
  clay: Clay,
  bar: SagBar,
  history: ClayHistory,
  sag_m: number,
  softness: number,
  slope: number,
): number => {
  const dry = boneDry(clay, bar, history);
  const share = (plusMinus: number, of: number): number => 1 + plusMinus / of;
  const friction = bar.friction === undefined ? USUAL_FRICTION.plusMinus : 0.05;
  const off: BoneDryBar[] = [
    { ...dry, span_m: dry.span_m * share(bar.spanPlusMinus_mm, bar.span_mm) },
    { ...dry, thickness_m: dry.thickness_m * share(bar.thicknessPlusMinus_mm, bar.thickness_mm) },
    { ...dry, density_kg_m3: dry.density_kg_m3 * (1 + DENSITY_OFF[clay.firedDensity.how]) },
  ];
  if (bar.held === 'over edges')
    off.push(
      { ...dry, length_m: dry.length_m * share(bar.lengthPlusMinus_mm, bar.length_mm ?? bar.span_mm) },
      { ...dry, friction: dry.friction + friction },
    );
  return (
    Math.hypot(...off.map((b) => refined(sagIn(b, history), sag_m, softness, slope) - softness)) /
    DEVIATIONS_80
  );
};

/**
 * A bar's table. About fifty passes through the bar and ten through its clay: a tenth of a second.
 * @param near_m the sag about which the shifts are worked out: the measured one, or the height it fell
 */
export const barTable = (clay: Clay, bar: SagBar, heat: TemperatureHistory, near_m: number): BarTable => {
  const history = clayHistory(clay, heat);
  const sagAt = sagIn(boneDry(clay, bar, history), history);
  if (sagAt(VERY_STIFF) === undefined)
    throw badInput(
      `sag bar ${bar.name}, length_mm`,
      bar.length_mm,
      `a bar that still reaches over both edges, ${bar.span_mm} apart, when it has shrunk`,
    );
  const table = tabled(sagAt, bar.span_mm / 1000);
  const readable_m = Math.min(near_m, Math.exp(table.lnSag.at(-1) as number) * 0.98);
  const near = softnessAt(table, Math.log(readable_m));
  const slope = (lnSagAt(table, near) - lnSagAt(table, near - STEP)) / STEP;
  const softness = refined(sagAt, readable_m, near, slope);
  const needed = (of: Clay, h: TemperatureHistory): number => {
    const other = clayHistory(of, h);
    const hurry = (other.creepClockUnshrunk.at(-1) as number) / (history.creepClockUnshrunk.at(-1) as number);
    return refined(sagIn(boneDry(of, bar, other), other), readable_m, softness - Math.log(hurry), slope);
  };
  const Q = clay.sagViscosity.activation_kJ_mol;
  const withQ = (activation_kJ_mol: number): Clay => ({
    ...clay,
    sagViscosity: { ...clay.sagViscosity, activation_kJ_mol },
  });
  const activations = ACTIVATIONS.map((share) => share * Q);
  const shifts = activations.map((q) => (q === Q ? 0 : needed(withQ(q), heat) - softness));
  const open = history.linearScale.findLastIndex(
    (L) => 1 - L < 0.99 * (1 - (history.linearScale.at(-1) as number)),
  );
  const clock = history.creepClockUnshrunk;
  const sooner = {
    ...clay,
    sintering: {
      ...clay.sintering,
      rate_per_h: clay.sintering.rate_per_h * Math.exp(CLOSING_OFF[clay.sintering.how]),
    },
  };
  const byClosing = (needed(sooner, heat) - softness) / DEVIATIONS_80;
  return {
    sagAt: (s) => (s > table.slidesAt ? undefined : Math.exp(lnSagAt(table, s))),
    softnessFor: (sag_m) => softnessAt(table, Math.log(sag_m)),
    slidesAt: table.slidesAt,
    shift: through(activations, shifts),
    sd: Math.hypot(byClosing, spreadOf(clay, bar, history, readable_m, softness, slope)),
    perKelvin: (softness - needed(clay, hotterBy(heat, 5))) / 5,
    whileClosing: open < 0 ? 0 : clock[open] / (clock.at(-1) as number),
  };
};
