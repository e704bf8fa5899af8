import type { Pattern } from './pattern.ts';
import type { Rings } from './rings.ts';
import { spacingAt } from './sizes.ts';
import type { Surface } from './surface.ts';

const TURN = 2 * Math.PI;
/** A ring whose wish varies by less than this keeps even angles. */
const EVEN = 1.08;

/** How densely nodes are wanted round a ring, at the angles of the survey; smoothed, since triangles must grow slowly. */
const densityRound = ({ stations, general }: Rings, total: number, s: number): Float64Array => {
  const { round, bends, way } = stations;
  const n = stations.length.length - 1;
  const x = (s / total) * n;
  const i = Math.min(n - 1, Math.floor(x));
  const f = x - i;
  const at = (values: Float64Array, k: number): number =>
    values[i * round + k] + f * (values[(i + 1) * round + k] - values[i * round + k]);
  let density = Float64Array.from({ length: round }, (_, k) => at(way, k) / spacingAt(at(bends, k), general));
  for (let pass = 0; pass < 2; pass++)
    density = density.map(
      (d, k) => (density[(k + round - 1) % round] + 2 * d + density[(k + 1) % round]) / 4,
    );
  return density;
};

/** Angles at which the running sum of the density reaches even shares; the first at 0. */
const shareOut = (density: Float64Array, count: number): Float64Array => {
  const round = density.length;
  const sum = new Float64Array(round + 1);
  for (let k = 0; k < round; k++) sum[k + 1] = sum[k] + 0.5 * (density[k] + density[(k + 1) % round]);
  const out = new Float64Array(count);
  let k = 0;
  for (let j = 1; j < count; j++) {
    const want = (sum[round] * j) / count;
    while (sum[k + 1] < want) k++;
    out[j] = (TURN * (k + (want - sum[k]) / (sum[k + 1] - sum[k]))) / round;
  }
  return out;
};

/** Share of the outer line at a place of the section. */
const alongAt = ({ section }: Surface, s: number): number => {
  const { length, along } = section;
  let i = 0;
  while (i + 2 < length.length && length[i + 1] < s) i++;
  return along[i] + ((s - length[i]) / (length[i + 1] - length[i])) * (along[i + 1] - along[i]);
};

/**
 * Angles of each ring's nodes, rad, rising over one turn. Even ones, turned with the pattern, where there is one; on a
 * piece without ridges nodes gather where it bends (a mark, the ends of an oval).
 */
export const ringAngles = (surface: Surface, rings: Rings, pattern: Pattern): Float64Array[] =>
  rings.counts.map((count, i) => {
    const s = rings.lengths[i];
    if (pattern.folds === 1) {
      const density = densityRound(rings, surface.total, s);
      const [most, least] = [Math.max(...density), Math.min(...density)];
      if (most > EVEN * least) return shareOut(density, count);
    }
    const turn = pattern.turn(alongAt(surface, s));
    return Float64Array.from({ length: count }, (_, k) => turn + (TURN * k) / count);
  });
