import type { Clay } from '../clay/clay.ts';
import { clayHistory } from '../clay/clay-history.ts';
import { hotterBy, type TemperatureHistory } from '../clay/temperature-history.ts';
import { asDrawnSd, DEVIATIONS_80 } from './expected.ts';
import type { FilmTable, LearningLog, PaceTable, Reading } from './learning-log.ts';
import type { Wish } from './piece-measures.ts';
import type { Measured } from './unloading.ts';

/** From what was measured to readings with their errors, and from a heat to how its clock goes. */

const FURTHEST_K = 42;
const PACE_STEP_K = 6;

/** How a kiln's offset moves the clock of this clay on in this heat. */
export const paceOf = (clay: Clay, heat: TemperatureHistory): PaceTable => {
  const offset_K: number[] = [];
  for (let K = -FURTHEST_K; K <= FURTHEST_K; K += PACE_STEP_K) offset_K.push(K);
  const clock = (K: number): number =>
    clayHistory(clay, hotterBy(heat, K)).creepClockUnshrunk.at(-1) as number;
  const middle = clock(0);
  return { offset_K, lnClock: offset_K.map((K) => Number(Math.log(clock(K) / middle).toPrecision(6))) };
};

/** The clay with the softness the log counts from, whatever its file says by now. */
export const referenceClay = (clay: Clay, log: Pick<LearningLog, 'reference'>): Clay => ({
  ...clay,
  sagViscosity: { ...log.reference, how: 'guess' },
});

/** Heights at which an outline is compared, as shares of its own height. */
const OUTLINE_AT = [0.1, 0.25, 0.4, 0.55, 0.7, 0.8, 0.9] as const;
/** Widths along one outline err together: all of them are worth about so many independent ones (a guess). */
const OUTLINE_WORTH = 3;

interface Raw {
  readonly key: string;
  readonly value_mm: number;
  readonly plusMinus_mm: number;
  /** Readings this one shares its errors with, itself counted. */
  readonly together: number;
}

type Outline = NonNullable<Measured['outline']>;

/** Greatest less least x where the closed outline crosses a height. */
const outlineWidth = ({ points_mm: p }: Outline, z: number): number | undefined => {
  const xs: number[] = [];
  p.forEach(([x0, z0], i) => {
    const [x1, z1] = p[(i + 1) % p.length];
    if (z0 < z !== z1 < z) xs.push(x0 + ((z - z0) / (z1 - z0)) * (x1 - x0));
  });
  return xs.length < 2 ? undefined : Math.max(...xs) - Math.min(...xs);
};

const outlineReadings = (outline: Outline): Raw[] => {
  const top = Math.max(...outline.points_mm.map(([, z]) => z));
  const { plusMinus_mm } = outline;
  const widths = OUTLINE_AT.flatMap((share) => {
    const z = Number((share * top).toFixed(1));
    const value_mm = outlineWidth(outline, z);
    return value_mm === undefined ? [] : [{ key: `outline at ${z}`, value_mm }];
  });
  const together = Math.max(1, widths.length / OUTLINE_WORTH);
  return [
    { key: 'outline top', value_mm: top, plusMinus_mm, together: 1 },
    // Either edge errs.
    ...widths.map((w) => ({ ...w, plusMinus_mm: Math.SQRT2 * plusMinus_mm, together })),
  ];
};

const lipReadings = (m: Measured): Raw[] => {
  const { greatest_mm, least_mm } = m.lipWidth ?? {};
  const of = (key: string, value_mm: number, share = 1): Raw => ({
    key,
    value_mm,
    plusMinus_mm: share * m.plusMinus_mm,
    together: 1,
  });
  // A lip thrown wide is wide both ways: mean and difference err independently, the two widths do not.
  if (greatest_mm !== undefined && least_mm !== undefined)
    return [
      of('lip mean', (greatest_mm + least_mm) / 2, Math.SQRT1_2),
      of('lip oval', greatest_mm - least_mm, Math.SQRT2),
    ];
  if (greatest_mm !== undefined) return [of('lip greatest', greatest_mm)];
  return least_mm === undefined ? [] : [of('lip least', least_mm)];
};

const dropReadings = (m: Measured): Raw[] => {
  const { greatest_mm, mean_mm, points } = m.lipDrop ?? {};
  const of = (key: string, value_mm: number, together = 1): Raw => ({
    key,
    value_mm,
    plusMinus_mm: m.plusMinus_mm,
    together,
  });
  return [
    ...(greatest_mm === undefined ? [] : [of('drop greatest', greatest_mm)]),
    ...(mean_mm === undefined ? [] : [of('drop mean', mean_mm)]),
    ...(points ?? []).map((p) =>
      of(`drop at ${p.angle_deg}`, p.drop_mm, Math.max(1, (points ?? []).length / 4)),
    ),
  ];
};

const rawReadings = (m: Measured): Raw[] => [
  ...(m.height_mm === undefined
    ? []
    : [{ key: 'height', value_mm: m.height_mm, plusMinus_mm: m.plusMinus_mm, together: 1 }]),
  ...(m.widest_mm === undefined
    ? []
    : [{ key: 'widest', value_mm: m.widest_mm, plusMinus_mm: m.plusMinus_mm, together: 1 }]),
  ...lipReadings(m),
  ...dropReadings(m),
  ...(m.outline ? outlineReadings(m.outline) : []),
];

/** Which tables of a film a piece's measures ask for; the lip's width is always among them, as a yardstick. */
export const wishFor = (measured: Measured | undefined): Wish => ({
  keys: [...new Set(['lip mean', ...(measured ? rawReadings(measured).map((r) => r.key) : [])])],
  from_deg: measured?.outline?.from_deg ?? 0,
});

/** The measures with the spread of everything that makes a right belief miss them but softness and size. */
export const readingsOf = (measured: Measured | undefined, film: FilmTable): Reading[] => {
  if (!measured) return [];
  const lip_mm = film.readings['lip mean'][0];
  return rawReadings(measured).map((r) => {
    const hand = r.plusMinus_mm / DEVIATIONS_80;
    const sd = Math.hypot(hand, asDrawnSd(r.key, film.readings[r.key][0], lip_mm));
    return {
      key: r.key,
      value_mm: Number(r.value_mm.toFixed(3)),
      sd_mm: Number((sd * Math.sqrt(r.together)).toPrecision(4)),
    };
  });
};

/** ln of the clock by which any film should reach: three standard deviations of what is not known at the start. */
export const generousLn = (log: LearningLog, pace: PaceTable): number => {
  const K = pace.lnClock[pace.offset_K.indexOf(PACE_STEP_K)] / PACE_STEP_K;
  const kilns = 10; // no kiln is believed to be off by more than this standard deviation, K
  return 3 * Math.hypot(log.start.softness.sd, K * kilns);
};
