import { normalQuantile } from '../../../kernel/numerics/normal.ts';
import { celsiusFromKelvin } from '../../../units.ts';
import type { Clay } from '../clay.ts';
import type { TemperatureHistory } from '../temperature-history.ts';
import { sagViscosity_Pa_s } from '../viscosity.ts';
import { type BarTable, USUAL_FRICTION } from './bar-table.ts';
import { type SagBar, touched } from './sag-bar.ts';

/** What one bar says by itself, its clay's activation energy and its kiln's thermometer taken at their word. */
export interface SagReading {
  readonly bar: string;
  readonly firing: string;
  /** A value; or only a bound, because the bar stopped on something, or hardly moved. */
  readonly kind: 'value' | 'no stiffer than' | 'no softer than';
  /** The peak of its firing, where it did nearly all of its sagging. */
  readonly at_C: number;
  /** Of the dense body at `at_C`; the bound itself where it is one. */
  readonly viscosity_Pa_s: number;
  /** 80 %, from the measures of the bar alone. */
  readonly low_Pa_s: number;
  readonly high_Pa_s: number;
  /** ln of how many times softer than its file the clay would be, and its standard deviation. */
  readonly softness: number;
  readonly sd: number;
  /** What the small-sag formula would say, to see what it would be out by. */
  readonly bySmallSag_Pa_s: number | undefined;
  /** s h²/L⁴, fired thickness; the trade's index of pyroplasticity, true for small sags only. */
  readonly index_per_cm: number | undefined;
  /** ln by which the viscosity at a given temperature comes out higher for each kelvin the kiln was hotter than it said. */
  readonly perKelvin: number;
  readonly notes: readonly string[];
}

const DEVIATIONS_80 = normalQuantile(0.9);
/** Sag of no more than this many of its standard deviations is only a bound. */
const SEEN = 2;
const MUCH_WHILE_CLOSING = 0.2;
const FAR_SAG = 0.15;
/** A softness at which the sag goes as the clock. */
const STIFF = -20;

const percent = (x: number): string => `${Math.round(100 * x)} %`;

const kindOf = (bar: SagBar): SagReading['kind'] => {
  if (bar.end === 'slid in between' || touched(bar)) return 'no stiffer than';
  const seen = (bar.sag_mm ?? 0) / (bar.sagPlusMinus_mm / DEVIATIONS_80 || 1e-9);
  return seen < SEEN ? 'no softer than' : 'value';
};

/** The sag a bar is read at, m: what was measured, how far it could fall, or the most it may have moved unseen. */
export const readAt_m = (bar: SagBar): number => {
  if (touched(bar)) return (bar.supportHeight_mm as number) / 1000;
  if (bar.end === 'slid in between') return bar.span_mm / 3000;
  return Math.max(bar.sag_mm as number, SEEN * (bar.sagPlusMinus_mm / DEVIATIONS_80), 0.02) / 1000;
};

const notesOn = (bar: SagBar, table: BarTable, kind: SagReading['kind'], clay: Clay): string[] => {
  const notes: string[] = [];
  if (kind === 'no stiffer than')
    notes.push(
      bar.end === 'slid in between'
        ? `Bar ${bar.name} slid in between its supports: the clay is at least that soft, how much softer it cannot say. Next time a longer, thicker bar or a narrower span.`
        : `Bar ${bar.name} came down on the shelf, ${bar.supportHeight_mm} mm under the edges: the clay is at least that soft, how much softer it cannot say. Next time higher supports, a thicker bar or a narrower span.`,
    );
  if (kind === 'no softer than')
    notes.push(
      `Bar ${bar.name} hardly moved against ±${bar.sagPlusMinus_mm} mm: the clay is at least that stiff. Next time a thinner bar, a wider span or a hotter firing.`,
    );
  if (kind === 'value' && (bar.sag_mm as number) > FAR_SAG * bar.span_mm)
    notes.push(
      `Bar ${bar.name} sagged by ${percent((bar.sag_mm as number) / bar.span_mm)} of its span: read with the shape it took, not with the small-sag formula; what friction did then counts more.`,
    );
  if (table.whileClosing > MUCH_WHILE_CLOSING)
    notes.push(
      `${percent(table.whileClosing)} of the sagging of bar ${bar.name} came while pores still closed, and so rests on the clay's sintering values, known as: ${clay.sintering.how}.`,
    );
  if (bar.held === 'over edges' && bar.friction === undefined)
    notes.push(
      `Bar ${bar.name} is taken to slip on its supports at a slope of ${USUAL_FRICTION.value} ± ${USUAL_FRICTION.plusMinus} (a guess; counted in the interval).`,
    );
  return notes;
};

/**
 * Read one bar.
 * @param table made by `barTable` for this clay, bar and heat, near `readAt_m(bar)`
 */
export const readBar = (clay: Clay, bar: SagBar, heat: TemperatureHistory, table: BarTable): SagReading => {
  const kind = kindOf(bar);
  const sag_m = readAt_m(bar);
  const softness = bar.end === 'slid in between' ? table.slidesAt : table.softnessFor(sag_m);
  const peak_K = heat.temperature_K.reduce((a, b) => Math.max(a, b), 0);
  const viscosity_Pa_s = sagViscosity_Pa_s(clay, peak_K) * Math.exp(-softness);
  const sagSd = bar.sagPlusMinus_mm / 1000 / DEVIATIONS_80 / sag_m;
  const sd = kind === 'value' ? Math.hypot(table.sd, sagSd) : table.sd;
  const factor = Math.exp(DEVIATIONS_80 * sd);
  const bySmall = Math.log(sag_m / (table.sagAt(STIFF) as number)) + STIFF;
  const fired_m = bar.thickness_mm / 1000; // for the index, as the trade takes it
  return {
    bar: bar.name,
    firing: bar.firing,
    kind,
    at_C: celsiusFromKelvin(peak_K),
    viscosity_Pa_s,
    low_Pa_s: viscosity_Pa_s / factor,
    high_Pa_s: viscosity_Pa_s * factor,
    softness,
    sd,
    bySmallSag_Pa_s: kind === 'value' ? sagViscosity_Pa_s(clay, peak_K) * Math.exp(-bySmall) : undefined,
    index_per_cm:
      kind === 'value' && bar.measured === 'fired'
        ? (sag_m * fired_m ** 2) / (bar.span_mm / 1000) ** 4 / 100
        : undefined,
    perKelvin: table.perKelvin,
    notes: notesOn(bar, table, kind, clay),
  };
};
