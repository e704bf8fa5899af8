import type { Belief } from './belief.ts';
import { paced } from './expected.ts';
import type { Evidence } from './learning-log.ts';
import { lnPiece, smoothed } from './piece-likelihood.ts';
import { FREEDOM, lnOff } from './robust.ts';
import { unknownKiln } from './start.ts';

/**
 * Bayes by quadrature, and by nothing else: no sampling, so the same evidence gives the same belief in any order.
 *
 * Three things are shared by all pieces (softness s, size, scatter of the walls) and get a grid each; given those, kilns
 * are independent of one another, and given a kiln's offset so are its firings, each with an offset of its own about the
 * kiln's, and given that so are the pieces, each with its own scatter in the ln of its clock. So a studio of any number
 * of kilns and pieces costs a sum of small integrals. Grids draw together round what is likely and are laid anew a few
 * times; evenly spaced sums of smooth peaks are exact to 1e-4 at 1.5 standard deviations a step (L. N. Trefethen,
 * J. A. C. Weideman, SIAM Review 56 (2014) 385-458).
 *
 * Tried and left: importance sampling from the belief before. Twenty pieces shrink it thirtyfold, and no draw is left.
 */

/** What one firing differs by from the kiln's usual offset: hold, weather, place on the shelf. K, sd (a guess). */
export const FIRING_SCATTER_K = 2.3;

const NODES = { softness: 13, size: 7, wall: 5 } as const;
/** Grids are laid anew until they settle, at most so often. */
const ROUNDS = 8;
/** Settled: the same middle and spread to this part of the spread. */
const SETTLED = 0.02;
/** Half the width of a grid in standard deviations. */
const REACH_SD = 4;
const KILN_NODES = 49;
/** No kiln's grid has more nodes, and no step of one is wider than a firing's own spread. */
const MOST_KILN_NODES = 161;
const CLOCK_STEP = 0.03;

interface Axis {
  readonly mean: number;
  readonly half: number;
  readonly nodes: number;
}
const nodesOf = ({ mean, half, nodes }: Axis): number[] =>
  Array.from({ length: nodes }, (_, i) => mean + half * ((2 * i) / (nodes - 1) - 1));

const lnNormal = (x: number, mean: number, sd: number): number => -0.5 * ((x - mean) / sd) ** 2;

/** A kiln's evidence with its grid of offsets. */
interface KilnWork {
  readonly name: string;
  readonly prior: { readonly mean_K: number; readonly sd_K: number };
  readonly firings: readonly Evidence[];
  readonly offsets: readonly number[];
  /** ln clock of each firing at each offset. */
  readonly paces: readonly (readonly number[])[];
}

const kilnWork = (start: Belief, name: string, evidence: readonly Evidence[]): KilnWork => {
  const prior = start.kilns.find((k) => k.name === name) ?? unknownKiln(name);
  const firings = evidence.filter((e) => e.kiln === name);
  const usual = REACH_SD * Math.hypot(prior.sd_K, FIRING_SCATTER_K);
  // A thermometer may be further off than anybody feared: the grid reaches as far as cones say.
  const told = firings.flatMap(({ offset: o }) =>
    o ? [Math.abs(o.mean_K - prior.mean_K) + REACH_SD * Math.hypot(o.sd_K, FIRING_SCATTER_K)] : [],
  );
  const half = Math.max(usual, ...told);
  const more = Math.ceil(((KILN_NODES - 1) * half) / usual / 2);
  const offsets = nodesOf({
    mean: prior.mean_K,
    half,
    nodes: Math.min(MOST_KILN_NODES, 2 * more + 1),
  });
  return { name, prior, firings, offsets, paces: firings.map((f) => offsets.map(paced(f.pace))) };
};

/** ln likelihood of a firing's pieces on an even grid of the firing's own clock, for each scatter of the walls. */
const clockTables = (
  pieces: readonly PieceOn[],
  count: number,
  size: number,
  walls: readonly number[],
): Float64Array[] => {
  const sums = walls.map(() => new Float64Array(count));
  for (const piece of pieces) {
    const ln = piece.at(size);
    walls.forEach((wall, w) => {
      const own = smoothed(ln, CLOCK_STEP, Math.hypot(Math.exp(wall), piece.meshSd));
      for (let i = 0; i < count; i++) sums[w][i] += own[i];
    });
  }
  return sums;
};

/** A piece on the round's clocks. */
interface PieceOn {
  readonly at: (size: number) => Float64Array;
  readonly meshSd: number;
}

const between = (table: Float64Array, at: number): number => {
  const i = Math.min(table.length - 2, Math.max(0, Math.floor(at)));
  const s = Math.min(1, Math.max(0, at - i));
  return (1 - s) * table[i] + s * table[i + 1];
};

interface KilnSum {
  /** ln of the integral over the kiln's offset. */
  readonly ln: number;
  readonly mean_K: number;
  readonly square_K2: number;
}

/** The spread of a firing about its kiln: weights by how many nodes apart; further it is nothing. */
const spread = (offsets: readonly number[]): Float64Array => {
  const step = offsets[1] - offsets[0];
  const far = Math.min(offsets.length - 1, Math.ceil((4.5 * FIRING_SCATTER_K) / step));
  return Float64Array.from({ length: far + 1 }, (_, k) => Math.exp(lnNormal(k * step, 0, FIRING_SCATTER_K)));
};

/** ln of the integral over one firing's own offset, for each of its kiln's. */
const firingSum = (own: readonly number[], kernel: Float64Array): number[] => {
  const most = Math.max(...own);
  const plain = own.map((x) => Math.exp(x - most));
  const far = kernel.length - 1;
  return own.map((_, i) => {
    let sum = 0;
    for (let j = Math.max(0, i - far); j <= Math.min(own.length - 1, i + far); j++)
      sum += kernel[Math.abs(i - j)] * plain[j];
    return most + Math.log(Math.max(sum, 1e-300));
  });
};

/** Integrates one kiln out at one softness; `tables` one a firing. */
const kilnSum = (
  kiln: KilnWork,
  kernel: Float64Array,
  tables: readonly Float64Array[],
  firstClock: number,
  softness: number,
  freedom: number,
): KilnSum => {
  const ln = kiln.offsets.map((K) => lnNormal(K, kiln.prior.mean_K, kiln.prior.sd_K));
  kiln.firings.forEach((firing, f) => {
    const own = kiln.offsets.map((t, j) => {
      const u = softness + kiln.paces[f][j];
      let sum = between(tables[f], (u - firstClock) / CLOCK_STEP);
      if (firing.softness) sum += lnOff((firing.softness.mean - u) / firing.softness.sd, freedom);
      if (firing.offset) sum += lnOff((firing.offset.mean_K - t) / firing.offset.sd_K, freedom);
      return sum;
    });
    firingSum(own, kernel).forEach((x, i) => {
      ln[i] += x;
    });
  });
  const most = Math.max(...ln);
  let [sum, first, second] = [0, 0, 0];
  ln.forEach((x, i) => {
    const p = Math.exp(x - most);
    sum += p;
    first += p * kiln.offsets[i];
    second += p * kiln.offsets[i] ** 2;
  });
  return { ln: most + Math.log(sum), mean_K: first / sum, square_K2: second / sum };
};

interface Cell {
  readonly at: readonly [softness: number, size: number, wall: number];
  readonly ln: number;
  readonly kilns: readonly KilnSum[];
}

type Axes = Readonly<Record<keyof typeof NODES, Axis>>;

const cellsOf = (start: Belief, kilns: readonly KilnWork[], axes: Axes, freedom: number): Cell[] => {
  const [softnesses, sizes, walls] = [nodesOf(axes.softness), nodesOf(axes.size), nodesOf(axes.wall)];
  const paces = kilns.flatMap((k) => k.paces.flat());
  const firstClock = softnesses[0] + Math.min(0, ...paces);
  const lastClock = softnesses[softnesses.length - 1] + Math.max(0, ...paces);
  const count = Math.ceil((lastClock - firstClock) / CLOCK_STEP) + 2;
  const clocks = Float64Array.from({ length: count }, (_, i) => firstClock + i * CLOCK_STEP);
  const kernels = kilns.map((k) => spread(k.offsets));
  const pieces = kilns.map((k) =>
    k.firings.map((f) =>
      f.pieces.map((p): PieceOn => ({ at: lnPiece(p, clocks, freedom), meshSd: p.film.meshSd })),
    ),
  );
  // A kiln that fired only test pieces knows nothing of sizes and walls: one sum a softness serves them all.
  const kept = kilns.map(() => new Map<number, KilnSum>());
  const cells: Cell[] = [];
  for (const size of sizes) {
    const tables = pieces.map((firings) => firings.map((f) => clockTables(f, count, size, walls)));
    walls.forEach((wall, w) => {
      for (const softness of softnesses) {
        const each = kilns.map((k, i): KilnSum => {
          const plain = k.firings.every((f) => f.pieces.length === 0);
          const known = plain ? kept[i].get(softness) : undefined;
          if (known) return known;
          const own = tables[i].map((t) => t[w]);
          const sum = kilnSum(k, kernels[i], own, firstClock, softness, freedom);
          if (plain) kept[i].set(softness, sum);
          return sum;
        });
        const prior =
          lnNormal(softness, start.softness.mean, start.softness.sd) +
          lnNormal(size, start.size.mean, start.size.sd) +
          lnNormal(wall, start.wall.mean, start.wall.sd);
        cells.push({
          at: [softness, size, wall],
          ln: prior + each.reduce((sum, k) => sum + k.ln, 0),
          kilns: each,
        });
      }
    });
  }
  return cells;
};

const weightsOf = (cells: readonly Cell[]): number[] => {
  const most = cells.reduce((a, c) => Math.max(a, c.ln), Number.NEGATIVE_INFINITY);
  const plain = cells.map((c) => Math.exp(c.ln - most));
  const sum = plain.reduce((a, b) => a + b, 0);
  return plain.map((p) => p / sum);
};

interface Moments {
  readonly mean: number;
  readonly sd: number;
}

const settled = (before: readonly Moments[], now: readonly Moments[]): boolean =>
  now.every(
    ({ mean, sd }, k) =>
      Math.abs(mean - before[k].mean) < SETTLED * sd && Math.abs(sd - before[k].sd) < SETTLED * sd,
  );

const momentsOf = (values: readonly number[], weights: readonly number[]): Moments => {
  const mean = values.reduce((sum, x, i) => sum + weights[i] * x, 0);
  const square = values.reduce((sum, x, i) => sum + weights[i] * (x - mean) ** 2, 0);
  return { mean, sd: Math.sqrt(square) };
};

/** The next grid: round what is likely, not so tight at once that a peak between two nodes is lost. */
const drawnTogether = (axis: Axis, { mean, sd }: Moments): Axis => {
  const step = (2 * axis.half) / (axis.nodes - 1);
  const half = Math.min(1.2 * axis.half, REACH_SD * Math.max(sd, 0.45 * step));
  return { ...axis, mean, half };
};

const believed = (
  kilns: readonly KilnWork[],
  cells: readonly Cell[],
  weights: readonly number[],
  [softness, size, wall]: readonly Moments[],
): Belief => {
  return {
    softness,
    size,
    wall,
    kilns: kilns.map(({ name }, k) => {
      const mean_K = cells.reduce((sum, c, i) => sum + weights[i] * c.kilns[k].mean_K, 0);
      const square = cells.reduce((sum, c, i) => sum + weights[i] * c.kilns[k].square_K2, 0);
      const sd_K = Math.sqrt(Math.max(0, square - mean_K ** 2));
      const together = cells.reduce(
        (sum, c, i) => sum + weights[i] * (c.at[0] - softness.mean) * (c.kilns[k].mean_K - mean_K),
        0,
      );
      const withSoftness = sd_K * softness.sd > 0 ? together / (sd_K * softness.sd) : 0;
      return { name, mean_K, sd_K, withSoftness: Math.min(1, Math.max(-1, withSoftness)) };
    }),
  };
};

/**
 * The belief that evidence leaves of a starting belief. Pure and without chance; the order of the evidence is nothing.
 * @param freedom of the readings' errors; endless is the normal law
 * @param start what was believed before any of it; its kilns are taken to be independent of the softness
 */
export const posterior = (start: Belief, evidence: readonly Evidence[], freedom = FREEDOM): Belief => {
  if (evidence.length === 0) return start;
  const names = [...new Set([...start.kilns.map((k) => k.name), ...evidence.map((e) => e.kiln)])];
  const kilns = names.map((name) => kilnWork(start, name, evidence));
  const axis = (key: keyof typeof NODES): Axis => ({
    mean: start[key].mean,
    half: REACH_SD * start[key].sd,
    nodes: NODES[key],
  });
  let axes: Axes = { softness: axis('softness'), size: axis('size'), wall: axis('wall') };
  let last: readonly Moments[] | undefined;
  for (let round = 1; ; round++) {
    const cells = cellsOf(start, kilns, axes, freedom);
    const weights = weightsOf(cells);
    const now = [0, 1, 2].map((k) =>
      momentsOf(
        cells.map((c) => c.at[k]),
        weights,
      ),
    );
    if (round === ROUNDS || (last && settled(last, now))) return believed(kilns, cells, weights, now);
    last = now;
    axes = {
      softness: drawnTogether(axes.softness, now[0]),
      size: drawnTogether(axes.size, now[1]),
      wall: drawnTogether(axes.wall, now[2]),
    };
  }
};
