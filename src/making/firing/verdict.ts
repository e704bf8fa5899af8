import { celsiusFromKelvin, mmFromMetres } from '../../units.ts';
import type { Estimate, Verdict } from './firing.ts';

/** What the verdict is said from. */
export interface VerdictFacts {
  readonly kind: Verdict['kind'];
  /** The drop that tells most in this attitude, and of what: `the lip`, `the top`. */
  readonly part: string;
  readonly drop: Estimate;
  readonly time_s?: number;
  readonly temperature_K?: number;
  /** Cones down by then, in words. */
  readonly cone?: string;
  readonly shrinkageDone: number;
}

/** Moving less than this part of its size, a piece is said to stand. */
export const STANDS_SHARE = 0.01;

const mm = (l_m: number): string => {
  const v = mmFromMetres(l_m);
  return Math.abs(v) < 9.95 ? Math.max(0, v).toFixed(1) : v.toFixed(0);
};

const drop = (e: Estimate): string =>
  Number.isFinite(e.low) && Number.isFinite(e.high)
    ? `${mm(e.value)} mm (${mm(e.low)} to ${mm(e.high)})`
    : `about ${mm(e.value)} mm`;

/** The verdict in one sentence. */
export const say = (f: VerdictFacts): Verdict => {
  const when =
    f.temperature_K === undefined
      ? ''
      : ` at about ${Math.round(celsiusFromKelvin(f.temperature_K))} °C${f.cone ? ` (${f.cone})` : ''}`;
  const done = Math.round(100 * f.shrinkageDone);
  const text: Record<Verdict['kind'], string> = {
    stands: `Stands: ${f.part} drops ${drop(f.drop)} beyond shrinkage.`,
    sags: `Sags: ${f.part} drops ${drop(f.drop)} beyond shrinkage.`,
    'keeps-falling': `Keeps falling: it loses its shape${when} and does not come to rest.`,
    'rim-on-shelf': `The lip comes down to the shelf${when}.`,
    'wall-on-wall': `The wall sinks until it meets itself${when}; what happens after that is not shown.`,
    'not-fired': `Not fired: only ${done} % of its firing shrinkage is done, the wall stays porous.`,
  };
  return { kind: f.kind, text: text[f.kind], time_s: f.time_s };
};
