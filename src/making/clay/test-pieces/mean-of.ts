import { normalQuantile } from '../../../kernel/numerics/normal.ts';

/** A mean with its 80 % interval. */
export interface Mean {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly count: number;
  /** Standard deviation of the mean. */
  readonly sd: number;
}

export interface Told {
  readonly name: string;
  readonly value: number;
  /** From how it was measured. */
  readonly sd: number;
}

const DEVIATIONS_80 = normalQuantile(0.9);
/** For 1 to 10 degrees of freedom (any table). */
const T90 = [3.078, 1.886, 1.638, 1.533, 1.476, 1.44, 1.415, 1.397, 1.383, 1.372] as const;
/** Student's t at 0.9: half the width that holds four cases in five, in standard deviations found from as few. */
export const t90 = (freedom: number): number => T90[freedom - 1] ?? DEVIATIONS_80 * (1 + 0.7 / freedom);

/**
 * Mean of several readings of one thing. Its spread is what measuring leaves, or what the readings scatter by if that is
 * more (from three readings on).
 */
export const meanOf = (told: readonly Told[]): Mean => {
  const n = told.length;
  const value = told.reduce((s, r) => s + r.value, 0) / n;
  const measuring = Math.sqrt(told.reduce((s, r) => s + r.sd ** 2, 0)) / n;
  const scatter = n < 3 ? 0 : Math.sqrt(told.reduce((s, r) => s + (r.value - value) ** 2, 0) / (n - 1) / n);
  const half = Math.max(DEVIATIONS_80 * measuring, n < 3 ? 0 : t90(n - 1) * scatter);
  return { value, low: value - half, high: value + half, count: n, sd: Math.max(measuring, scatter) };
};

/** Off by more of its own measuring error than this, the others' included: once in four hundred. */
const ODD = 3;

/** Readings that the others do not agree with. */
export const oddAmong = (told: readonly Told[]): { readonly name: string; readonly off: number }[] =>
  told.length < 2
    ? []
    : told.flatMap((r) => {
        const others = told.filter((o) => o !== r);
        const mean = meanOf(others);
        const off = (r.value - mean.value) / Math.hypot(r.sd, mean.sd);
        return Math.abs(off) > ODD ? [{ name: r.name, off: r.value - mean.value }] : [];
      });
