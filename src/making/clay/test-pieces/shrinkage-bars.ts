import { z } from 'zod';
import { badInputs, type Fault } from '../../../error.ts';
import { normalQuantile } from '../../../kernel/numerics/normal.ts';
import { combinedShrinkage } from '../shrinkage.ts';
import { type Mean, meanOf, oddAmong, type Told } from './mean-of.ts';

/**
 * Shrinkage from two marks on a bar, read wet, bone dry and fired. Arithmetic as in ASTM C326 (linear drying and firing
 * shrinkage of whiteware clays; marks 4 in apart on ten bars; formulas from memory, the same as in common textbooks):
 * drying on the wet length, firing on the dry one, total on the wet one.
 */

export const DIRECTIONS = ['along', 'across', 'through', 'round', 'up'] as const;
export type Direction = (typeof DIRECTIONS)[number];

const mm = (what: string) => z.number().positive().max(1000).describe(what);

export const ShrinkageBar = z.strictObject({
  name: z.string().min(1).max(40).describe('What is scratched on the bar'),
  firing: z.string().min(1).optional().describe('Name of the firing it was in, as listed in this file'),
  direction: z
    .enum(DIRECTIONS)
    .default('along')
    .describe(
      'Of the marks: along, across or through a rolled or pressed bar; round or up a wall that was thrown',
    ),
  wet_mm: mm('Between the marks as soon as the bar can be handled').optional(),
  dry_mm: mm('Between the marks, bone dry').optional(),
  fired_mm: mm('Between the marks, fired').optional(),
  plusMinus_mm: z
    .number()
    .positive()
    .max(10)
    .default(0.2)
    .describe('Four readings in five are no further off'),
  note: z.string().optional(),
});
export type ShrinkageBar = z.infer<typeof ShrinkageBar>;

export interface DirectionShrinkage {
  readonly direction: Direction;
  /** Per cent of the length before, as in the clay file. */
  readonly drying_percent: Mean | undefined;
  readonly firing_percent: Mean | undefined;
  /** On the wet length. */
  readonly total_percent: Mean | undefined;
}

export interface ShrinkageFinding {
  readonly directions: readonly DirectionShrinkage[];
  /** Over all directions: what a clay file, that knows one shrinkage, should say. */
  readonly drying_percent: Mean | undefined;
  readonly firing_percent: Mean | undefined;
  readonly contradictions: readonly string[];
  readonly notes: readonly string[];
}

const DEVIATIONS_80 = normalQuantile(0.9);
/** A bar that grows in the fire by more than this has bloated. */
const GREW_percent = 0.5;

const faultsOf = (bar: ShrinkageBar, at: string): Fault[] => {
  const given = [bar.wet_mm, bar.dry_mm, bar.fired_mm].filter((l) => l !== undefined);
  const faults: Fault[] = [];
  if (given.length < 2)
    faults.push({
      field: at,
      value: `${given.length} of its lengths`,
      expected: 'at least two of wet_mm, dry_mm and fired_mm',
    });
  if (bar.wet_mm !== undefined && bar.dry_mm !== undefined && bar.dry_mm > bar.wet_mm + bar.plusMinus_mm)
    faults.push({
      field: `${at}.dry_mm`,
      value: `${bar.dry_mm}`,
      expected: `no more than wet_mm, ${bar.wet_mm}: clay does not grow in drying`,
    });
  return faults;
};

/** 100 (from - to)/from with its standard deviation; both lengths err alike. */
const shrunk = (name: string, from: number, to: number, plusMinus_mm: number): Told => {
  const sd = ((plusMinus_mm / DEVIATIONS_80) * Math.hypot(1, to / from)) / from;
  return { name, value: 100 * (1 - to / from), sd: 100 * sd };
};

type Step = 'drying' | 'firing' | 'total';
const told = (bars: readonly ShrinkageBar[], step: Step): Told[] =>
  bars.flatMap((b) => {
    const from = step === 'firing' ? b.dry_mm : b.wet_mm;
    const to = step === 'drying' ? b.dry_mm : b.fired_mm;
    return from === undefined || to === undefined ? [] : [shrunk(b.name, from, to, b.plusMinus_mm)];
  });

const mean = (of: readonly Told[]): Mean | undefined => (of.length === 0 ? undefined : meanOf(of));

/** A shrinkage on the dry length as part of the total on the wet one. */
const afterDrying = (m: Mean, drying: number): Mean => {
  const of = (x: number): number => 100 * combinedShrinkage(drying, x / 100);
  return { value: of(m.value), low: of(m.low), high: of(m.high), count: m.count, sd: m.sd * (1 - drying) };
};

/** Total from its two parts where no bar has both ends: lengths multiply. */
const totalOf = (
  bars: readonly ShrinkageBar[],
  drying: Mean | undefined,
  firing: Mean | undefined,
): Mean | undefined => {
  const direct = mean(told(bars, 'total'));
  if (direct || !drying || !firing) return direct;
  const combined = afterDrying(firing, drying.value / 100);
  const half = Math.hypot(
    combined.high - combined.value,
    (drying.high - drying.value) * (1 - firing.value / 100),
  );
  return { ...combined, low: combined.value - half, high: combined.value + half };
};

/** Directions count alike, however many bars each has. */
const overall = (means: readonly (Mean | undefined)[]): Mean | undefined => {
  const known = means.filter((m) => m !== undefined);
  if (known.length === 0) return undefined;
  const value = known.reduce((s, m) => s + m.value, 0) / known.length;
  const half = Math.sqrt(known.reduce((s, m) => s + (m.high - m.value) ** 2, 0)) / known.length;
  const sd = Math.sqrt(known.reduce((s, m) => s + m.sd ** 2, 0)) / known.length;
  return { value, low: value - half, high: value + half, sd, count: known.reduce((s, m) => s + m.count, 0) };
};

const saidOdd = (bars: readonly ShrinkageBar[], step: Step): string[] =>
  oddAmong(told(bars, step)).map(
    ({ name, off }) =>
      `Bar ${name}: its ${step} shrinkage is ${Math.abs(off).toFixed(1)} points ${off > 0 ? 'more' : 'less'} than the other bars of its direction have. Measure it again, or look whether it warped.`,
  );

const notesOf = (directions: readonly DirectionShrinkage[]): string[] => {
  const grew = directions.filter((d) => (d.firing_percent?.value ?? 0) < -GREW_percent);
  const fired = directions.filter((d) => d.firing_percent !== undefined);
  const notes = grew.map(
    (d) => `Bars grew in the fire (${d.direction}): bloated, or fired and dry were swapped.`,
  );
  if (fired.length > 1) {
    const by = fired.map((d) => d.firing_percent?.value ?? 0);
    const gap = Math.max(...by) - Math.min(...by);
    if (gap > 0.3)
      notes.push(
        `Firing shrinkage differs by ${gap.toFixed(1)} points between directions. A clay file holds one, and takes their mean; a piece will differ from the prediction by that.`,
      );
  }
  return notes;
};

/**
 * Shrinkages in each direction, with intervals.
 * @throws AfterfireError `bad-input` for bars with too few lengths, or that grew in drying
 */
export const shrinkageFrom = (bars: readonly ShrinkageBar[]): ShrinkageFinding => {
  const faults = bars.flatMap((b, i) => faultsOf(b, `shrinkageBars[${i}]`));
  if (faults.length > 0) throw badInputs(faults);
  const used = DIRECTIONS.filter((d) => bars.some((b) => b.direction === d));
  const directions = used.map((direction): DirectionShrinkage => {
    const own = bars.filter((b) => b.direction === direction);
    const drying_percent = mean(told(own, 'drying'));
    const firing_percent = mean(told(own, 'firing'));
    return {
      direction,
      drying_percent,
      firing_percent,
      total_percent: totalOf(own, drying_percent, firing_percent),
    };
  });
  return {
    directions,
    drying_percent: overall(directions.map((d) => d.drying_percent)),
    firing_percent: overall(directions.map((d) => d.firing_percent)),
    contradictions: used.flatMap((d) => {
      const own = bars.filter((b) => b.direction === d);
      return [...saidOdd(own, 'drying'), ...saidOdd(own, 'firing')];
    }),
    notes: notesOf(directions),
  };
};
