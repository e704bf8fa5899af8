import { mmFromMetres } from '../../units.ts';
import type { Estimate } from './firing.ts';

/** Lengths as a potter would say them: no finer than they are known, and never a nought that only means little. */

const LEAST_mm = 0.1;
/** Sides that differ by more than this are told apart. */
const LOPSIDED = 1.25;

/** The last place worth saying where `half` is the uncertainty: its first figure, by halves where that is a 1. */
const lastPlace = (half: number): number => {
  const place = 10 ** Math.floor(Math.log10(Math.max(half, LEAST_mm)));
  return Math.max(LEAST_mm, half < 2 * place ? place / 2 : place);
};

const rounded = (value: number, step: number): string =>
  String(Number((Math.round(value / step) * step).toFixed(1)));

/** Without an interval: a quick look, one figure below 10 mm and two above. */
const roughly = (v: number): string => {
  if (v < LEAST_mm) return `less than ${LEAST_mm} mm`;
  return `about ${Number(v.toPrecision(v < 10 ? 1 : 2))} mm`;
};

/** e.g. `4 ± 1.5 mm`, `4 (3 to 7) mm`, `less than 0.1 mm`; `about 4 mm` where there is no interval. */
export const lengthTold = (e: Pick<Estimate, 'value' | 'low' | 'high'>): string => {
  const [v, low, high] = [e.value, e.low, e.high].map((l_m) => Math.max(0, mmFromMetres(l_m)));
  if (!(Number.isFinite(e.low) && Number.isFinite(e.high)))
    return roughly(Math.max(0, mmFromMetres(e.value)));
  if (high < LEAST_mm) return `less than ${LEAST_mm} mm`;
  const [under, over] = [v - low, high - v];
  const step = lastPlace(Math.max(under, over));
  const middle = rounded(v, step);
  if (middle === '0') return `less than ${rounded(Math.max(high, step), step)} mm`;
  const even = Math.max(under, over) <= LOPSIDED * Math.min(under, over);
  if (even) {
    const half = rounded(Math.max(under, over, step), step);
    return `${middle} ± ${half} mm`;
  }
  const [from, to] = [rounded(low, step), rounded(high, step)];
  return from === '0' ? `${middle} (up to ${to}) mm` : `${middle} (${from} to ${to}) mm`;
};
