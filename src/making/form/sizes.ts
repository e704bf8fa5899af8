import type { Pattern } from './pattern.ts';
import type { Surface } from './surface.ts';

/** What the altered surface is like at stations along the section; lengths in mm, bends in 1/mm. */
export interface Stations {
  readonly length: Float64Array;
  /** Way round the ring over 2 pi. */
  readonly girth: Float64Array;
  /** Bend round the ring and along the line, root mean square. */
  readonly bendRound: Float64Array;
  readonly bendAlong: Float64Array;
  /** Sharper of the two bends at each place of the survey, station by station, and mm round the ring per radian. */
  readonly round: number;
  readonly bends: Float64Array;
  readonly way: Float64Array;
  /** mm of altered surface for each mm of the line, mean round the ring. */
  readonly stretch: Float64Array;
}

const STATIONS = 72;
const bendOf = (p: Float64Array, a: number, b: number, c: number): { bend: number; step: number } => {
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[b], p[c + 1] - p[b + 1], p[c + 2] - p[b + 2]];
  const u = Math.sqrt(ux * ux + uy * uy + uz * uz);
  const v = Math.sqrt(vx * vx + vy * vy + vz * vz);
  const x = uy * vz - uz * vy;
  const y = uz * vx - ux * vz;
  const z = ux * vy - uy * vx;
  const area2 = u * v * 0.5 * (u + v);
  return { bend: area2 > 1e-12 ? Math.sqrt(x * x + y * y + z * z) / area2 : 0, step: u };
};

/** Surveys the surface on a grid of places. */
export const survey = (surface: Surface, pattern: Pattern): Stations => {
  const round = Math.min(160, Math.max(40, 8 * pattern.folds));
  const { total, section } = surface;
  const n = STATIONS + 1;
  const p = new Float64Array(3 * n * round);
  const length = Float64Array.from({ length: n }, (_, i) => (total * i) / STATIONS);
  for (let i = 0; i < n; i++) {
    // The very middle of the floor has no ring.
    const s = i === 0 && section.hasFloor ? 0.2 * (total / STATIONS) : length[i];
    for (let k = 0; k < round; k++) surface.at(s, (2 * Math.PI * k) / round, p, 3 * (i * round + k));
  }
  const stations: Stations = {
    length,
    girth: new Float64Array(n),
    bendRound: new Float64Array(n),
    bendAlong: new Float64Array(n),
    round,
    bends: new Float64Array(n * round),
    way: new Float64Array(n * round),
    stretch: new Float64Array(n),
  };
  for (let i = 0; i < n; i++) {
    let [girth, squareRound, squareAlong, way] = [0, 0, 0, 0];
    for (let k = 0; k < round; k++) {
      const id = (row: number, column: number): number => 3 * (row * round + (column % round));
      const { bend, step } = bendOf(p, id(i, k), id(i, k + 1), id(i, k + 2));
      girth += step;
      squareRound += bend * bend;
      const row = Math.min(n - 2, Math.max(1, i));
      const up = bendOf(p, id(row - 1, k), id(row, k), id(row + 1, k));
      squareAlong += up.bend * up.bend;
      stations.bends[i * round + ((k + 1) % round)] = Math.max(bend, up.bend);
      stations.way[i * round + k] = (step * round) / (2 * Math.PI);
      way += up.step;
    }
    stations.girth[i] = girth / (2 * Math.PI);
    stations.bendRound[i] = Math.sqrt(squareRound / round);
    stations.bendAlong[i] = Math.sqrt(squareAlong / round);
    stations.stretch[i] = (way / round) * (STATIONS / total);
  }
  return stations;
};

/** Wanted spacing at each station for a general spacing, mm. */
export interface Spacing {
  readonly round: Float64Array;
  readonly along: Float64Array;
}

/** How strongly bend shortens the spacing: spacing = general / (1 + BEND · general · bend). */
const BEND = 0.6;
/** Bend times spacing counts up to this: a corner's endless bend must not eat up the mesh. */
const MOST_BEND = 2.5;
/** Corners want spacing this share of the general one, growing again away from them. */
const CORNER = 0.55;
const GROWTH = 0.35;
/** Nodes a ridge-to-ridge wave wants, if that is not too much finer than the general spacing. */
const A_WAVE = 8;
const FINER_FOR_A_WAVE = 2.4;
const MOST_OBLONG = 1.7;
/** Along a ridge little happens: longer triangles there leave more for going round. */
const OBLONG_ON_A_WAVE = 2.1;
/** Where a wave has only its two nodes left the mesh may be this oblong rather than lose the wave. */
const MOST_OBLONG_WAVE = 6;

/** The spacing (mm) wanted where the surface bends so much (1/mm), for a general spacing. */
export const spacingAt = (bend: number, general: number): number =>
  general / (1 + BEND * Math.min(general * bend, MOST_BEND));

/** The metric: short where the surface bends, short at corners, never too oblong. */
export const spacing = (
  stations: Stations,
  corners: readonly number[],
  wallFrom: number,
  folds: number,
  general: number,
): Spacing => {
  const n = stations.length.length;
  const round = new Float64Array(n);
  const along = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let a = spacingAt(stations.bendRound[i], general);
    let m = spacingAt(stations.bendAlong[i], general);
    let oblong = MOST_OBLONG;
    if (stations.length[i] < wallFrom) a = general;
    else if (folds > 1) {
      const wave = (2 * Math.PI * stations.girth[i]) / folds;
      a = Math.min(a, Math.max(wave / A_WAVE, general / FINER_FOR_A_WAVE));
      if (a < general / 1.7) oblong = OBLONG_ON_A_WAVE;
      if (a > wave / 2) oblong = MOST_OBLONG_WAVE;
      a = Math.min(a, wave / 2);
    }
    for (const corner of corners) {
      const away = Math.abs(stations.length[i] - corner);
      m = Math.min(m, CORNER * general + GROWTH * away);
    }
    if (m > oblong * a) m = oblong * a;
    if (a > MOST_OBLONG * m) a = MOST_OBLONG * m;
    round[i] = a;
    along[i] = m;
  }
  return { round, along };
};
