import { type Pattern, ringCount } from './pattern.ts';
import { type Spacing, type Stations, spacing, survey } from './sizes.ts';
import type { Surface } from './surface.ts';

/** Where the rings of nodes lie on the section (mm), and how many nodes each has; a floor's middle is no ring. */
export interface Rings {
  readonly lengths: number[];
  readonly counts: number[];
  /** The general spacing they come from, mm, and the survey of the surface. */
  readonly general: number;
  readonly stations: Stations;
}

/** A ring changes its count only when the wish has moved this far from it. */
const KEEP = 1.3;

/** A triangle is at most about this much longer round the ring than up the line. */
const MOST_OBLONG_STEP = 2.2;

const valueAt = (stations: Stations, values: Float64Array, s: number): number => {
  const n = stations.length.length - 1;
  const x = (s / stations.length[n]) * n;
  const i = Math.min(n - 1, Math.floor(x));
  return values[i] + (x - i) * (values[i + 1] - values[i]);
};

/** Splits one stretch of the line so that each step is about as long as the metric wants there. */
const splitStretch = (from: number, to: number, stations: Stations, wish: Spacing): number[] => {
  const fine = 48;
  const sum = new Float64Array(fine + 1);
  for (let k = 0; k < fine; k++) {
    const s = from + ((to - from) * (k + 0.5)) / fine;
    const step = ((to - from) / fine) * valueAt(stations, stations.stretch, s);
    sum[k + 1] = sum[k] + step / valueAt(stations, wish.along, s);
  }
  const steps = Math.max(1, Math.round(sum[fine]));
  const out: number[] = [];
  let k = 0;
  for (let j = 1; j < steps; j++) {
    const want = (sum[fine] * j) / steps;
    while (sum[k + 1] < want) k++;
    out.push(from + ((to - from) * (k + (want - sum[k]) / (sum[k + 1] - sum[k]))) / fine);
  }
  out.push(to);
  return out;
};

/** Rings for a general spacing, mm. */
export const layOut = (surface: Surface, stations: Stations, pattern: Pattern, general: number): Rings => {
  const { corners, wallFrom, hasFloor } = surface.section;
  const wish = spacing(stations, corners, wallFrom, pattern.folds, general);
  const lengths = hasFloor ? [] : [0];
  const ends = [0, ...corners, surface.total];
  for (let i = 0; i + 1 < ends.length; i++)
    lengths.push(...splitStretch(ends[i], ends[i + 1], stations, wish));
  // From the lip down, so that the wall sets the pattern and the floor thins it out.
  const counts: number[] = new Array(lengths.length);
  for (let i = lengths.length - 1; i >= 0; i--) {
    const girth = Math.max(valueAt(stations, stations.girth, lengths[i]), 0.2 * surface.radius(lengths[i]));
    let wanted = (2 * Math.PI * girth) / valueAt(stations, wish.round, lengths[i]);
    // Between near corners the steps are shorter than the metric asked for; the ring keeps to them.
    const below = i > 0 || hasFloor ? lengths[i] - (lengths[i - 1] ?? 0) : Number.POSITIVE_INFINITY;
    const step = Math.min(below, (lengths[i + 1] ?? Number.POSITIVE_INFINITY) - lengths[i]);
    wanted = Math.max(wanted, Math.min(2 * wanted, (2 * Math.PI * girth) / (MOST_OBLONG_STEP * step)));
    if (lengths[i] >= wallFrom - 1e-9) wanted = Math.max(wanted, 2 * pattern.folds);
    const above = counts[i + 1];
    // From ring to ring the count at most halves; round the middle of a floor six is a good fan.
    wanted = Math.max(wanted, 6, (above ?? 0) / 2);
    const keep = above !== undefined && above < KEEP * wanted && wanted < KEEP * above;
    counts[i] = keep ? above : ringCount(wanted, pattern.folds);
  }
  return { lengths, counts, general, stations };
};

/** Triangles the rings will give. */
export const trianglesOf = ({ counts }: Rings, hasFloor: boolean): number => {
  let sum = hasFloor ? counts[0] : 0;
  for (let i = 0; i + 1 < counts.length; i++) sum += counts[i] + counts[i + 1];
  return sum;
};

/** What a caller may know already or count in its own way. */
interface Known {
  readonly stations?: Stations;
  /** Triangles the whole mesh will have with these rings. */
  readonly count?: (rings: Rings) => number;
  /** The general spacing may not be larger than this, mm. */
  readonly coarsest?: number;
}

/** Rings for about so many triangles: the general spacing is found by halving (on a log scale). */
export const ringsFor = (surface: Surface, pattern: Pattern, triangles: number, known: Known = {}): Rings => {
  const stations = known.stations ?? survey(surface, pattern);
  const count = known.count ?? ((rings: Rings) => trianglesOf(rings, surface.section.hasFloor));
  let area = 0;
  for (let i = 0; i + 1 < stations.length.length; i++)
    area += 2 * Math.PI * stations.girth[i] * (stations.length[i + 1] - stations.length[i]);
  const first = Math.sqrt((2.3 * area) / triangles);
  let [low, high] = [first / 4, Math.min(first * 6, known.coarsest ?? Number.POSITIVE_INFINITY)];
  let best: Rings | undefined;
  let off = Number.POSITIVE_INFINITY;
  for (let k = 0; k < 24 && off > 0.01; k++) {
    const general = Math.sqrt(low * high);
    const rings = layOut(surface, stations, pattern, general);
    const ratio = count(rings) / triangles;
    if (Math.abs(Math.log(ratio)) < off) {
      off = Math.abs(Math.log(ratio));
      best = rings;
    }
    if (ratio > 1) low = general;
    else high = general;
  }
  return best!;
};
