import { normalBelow, normalQuantile } from '../../../kernel/numerics/normal.ts';
import type { BarTable } from './bar-table.ts';
import { type SagBar, touched } from './sag-bar.ts';

const DEVIATIONS_80 = normalQuantile(0.9);

/** Never impossible: a slip of the pen is likelier than this. */
const LEAST = 1e-12;
const lnBelow = (x: number): number => Math.log(Math.max(LEAST, normalBelow(x)));

/** A bar with its table. */
export interface TabledBar {
  readonly bar: SagBar;
  readonly table: BarTable;
}

const sagSd_m = (bar: SagBar): number => Math.max(bar.sagPlusMinus_mm, 0.01) / 1000 / DEVIATIONS_80;

/** How steep: d ln sag/d softness, by a difference. */
const SLIGHT = 0.05;
const slopeAt = (table: BarTable, s: number): number => {
  const [a, b] = [table.sagAt(s - SLIGHT), table.sagAt(s)];
  return a === undefined || b === undefined ? 1 : (b - a) / SLIGHT;
};

/**
 * ln likelihood of what was found of a bar, were the clay this soft.
 * @param wider multiplies every standard deviation, for bars that scatter more than their measures allow
 */
export const lnBar = ({ bar, table }: TabledBar, softness: number, wider = 1): number => {
  if (bar.end === 'slid in between') return lnBelow((softness - table.slidesAt) / (wider * table.sd));
  const sag = table.sagAt(softness);
  if (touched(bar)) {
    const height = (bar.supportHeight_mm as number) / 1000;
    const s = table.softnessFor(height);
    const sd = Math.hypot(table.sd, sagSd_m(bar) / height);
    return sag === undefined ? 0 : lnBelow((softness - s) / (wider * sd));
  }
  if (sag === undefined || bar.sag_mm === undefined) return Math.log(LEAST);
  const sd = wider * Math.hypot(sagSd_m(bar), slopeAt(table, softness) * table.sd);
  return -0.5 * ((bar.sag_mm / 1000 - sag) / sd) ** 2 - Math.log(sd);
};
