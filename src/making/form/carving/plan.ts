import type { Pattern } from '../pattern.ts';
import { layOut, type Rings, ringsFor, trianglesOf } from '../rings.ts';
import { type Stations, spacing as stationSpacing } from '../sizes.ts';
import type { Surface } from '../surface.ts';
import { type Field, needField } from './field.ts';
import { type Gaps, gapsOf } from './gaps.ts';
import type { Laid } from './lay.ts';
import { type LineOnWall, lineOnWall } from './line-on-wall.ts';
import { cellsInside } from './raster.ts';
import { type Unrolled, unroll } from './unroll.ts';

/** What is to be meshed and how finely. */
export interface CarvedPlan {
  readonly wall: Unrolled;
  readonly laid: readonly Laid[];
  readonly lines: readonly LineOnWall[];
  readonly rings: Rings;
  /** Rings between which the wall is triangulated freely. */
  readonly low: number;
  readonly high: number;
  /** Wanted spacing at a place of the unrolled wall, mm. */
  readonly spacing_mm: (x: number, y: number) => number;
  /** Nodes that will be needed between the two rings, roughly. */
  readonly nodes: number;
}

/** How finely struts and rims are drawn, best first: spacings across the clay beside a rim, and round a rim. */
const LEVELS = [
  { across: 3.7, round: 14 },
  { across: 3.4, round: 11 },
  { across: 2.2, round: 9 },
  { across: 1.2, round: 7 },
] as const;
/** The openings may make the mesh this much larger than wished, and the rest of the piece this much coarser. */
const OVER_WISH = 1.4;
const COARSER = 1.5;
/** Triangles an opening costs at the very least. */
const LEAST_EACH = 16;
/** Clay wider than this many general spacings asks for nothing. */
const WIDE = 4;
/** Area of a triangle over the square of the spacing it was made for; measured on meshes of this kind. */
const TRIANGLE = 0.43;
/** The patch ends where the openings no longer ask for more than this share of the general spacing. */
const ENDS = 0.85;
/** So many general spacings stay free between an opening and the rings at the patch's ends, where there is wall enough. */
const ROOM = 1.4;

/** The general spacing at places along the section, as good in both directions as the rings' is in the stricter. */
const generalSpacing = (surface: Surface, stations: Stations, pattern: Pattern, general: number) => {
  const { corners, wallFrom } = surface.section;
  const { round, along } = stationSpacing(stations, corners, wallFrom, pattern.folds, general);
  const n = round.length - 1;
  return (s: number): number => {
    const at = Math.min(n - 1e-9, Math.max(0, (s / surface.total) * n));
    const i = Math.floor(at);
    const mix = (v: Float64Array): number => v[i] + (at - i) * (v[i + 1] - v[i]);
    return Math.min(mix(along), 1.2 * mix(round));
  };
};

interface Rows {
  readonly length: Float64Array;
  readonly scale: Float64Array;
  /** Least need in each row. */
  readonly least: Float64Array;
  /** 1 in cells cut away. */
  readonly gone: Uint8Array;
}

const rowsOf = (field: Field, wall: Unrolled, lines: readonly LineOnWall[]): Rows => {
  const { rows, columns, bottom, cell, need } = field;
  const length = Float64Array.from({ length: rows }, (_, r) => wall.lengthOfY(bottom + r * cell));
  const gone = new Uint8Array(rows * columns);
  for (const line of lines)
    cellsInside(field, line, (k) => {
      gone[k] = 1;
    });
  const least = new Float64Array(rows).fill(1e9);
  for (let k = 0; k < need.length; k++) {
    const r = Math.floor(k / columns);
    least[r] = Math.min(least[r], need[k]);
  }
  return { length, scale: length.map((s) => wall.scale(s)), least, gone };
};

/** First and last ring of the patch: beyond every opening, and where the openings ask for nothing more. */
const patchEnds = (
  rings: Rings,
  rows: Rows,
  lines: readonly LineOnWall[],
  general: (s: number) => number,
  first: number,
): [number, number] => {
  let [from, to] = [Number.POSITIVE_INFINITY, 0];
  for (const line of lines)
    for (const s of line.length) {
      const room = ROOM * general(s);
      [from, to] = [Math.min(from, s - room), Math.max(to, s + room)];
    }
  rows.length.forEach((s, r) => {
    if (rows.least[r] < ENDS * general(s)) [from, to] = [Math.min(from, s), Math.max(to, s)];
  });
  const last = rings.lengths.length - 1;
  let [low, high] = [first, last];
  while (low < last && rings.lengths[low + 1] < from - 1e-6) low++;
  while (high > low + 1 && rings.lengths[high - 1] > to + 1e-6) high--;
  return [low, high];
};

const patchTriangles = (
  field: Field,
  rows: Rows,
  general: (s: number) => number,
  from: number,
  to: number,
): number => {
  const { columns, cell, need } = field;
  let sum = 0;
  for (let r = 0; r < rows.length.length; r++) {
    const s = rows.length[r];
    if (s < from || s > to) continue;
    const wide = general(s);
    let row = 0;
    for (let k = r * columns; k < (r + 1) * columns; k++)
      if (!rows.gone[k]) {
        const size = Math.min(wide, need[k]);
        row += 1 / (size * size);
      }
    sum += row * (cell * rows.scale[r]) ** 2;
  }
  return sum / TRIANGLE;
};

const wishesOf = (lines: readonly LineOnWall[], gaps: Gaps, level: (typeof LEVELS)[number]): Float64Array[] =>
  lines.map((line, l) =>
    gaps.clay[l].map((clay) => Math.max(0.25, Math.min(clay / level.across, line.perimeter / level.round))),
  );

/**
 * Settles how finely a carved piece is drawn with about so many triangles: the wall between the struts three
 * triangles across if that fits, else coarser, else with some of the carving left out.
 * @param keepAll rather more triangles than a carving left out: for two meshes of one form that are to be compared
 * @returns undefined when so few triangles cannot show any opening; `leftOut`: carvings not shown
 */
export const planCarved = (
  surface: Surface,
  stations: Stations,
  pattern: Pattern,
  openings: readonly Laid[],
  triangles: number,
  keepAll: boolean,
): { plan?: CarvedPlan; leftOut: number[] } => {
  const plain = ringsFor(surface, pattern, triangles, { stations });
  const wall = unroll(surface, stations);
  const leftOut: number[] = [];
  let laid = openings;
  while (laid.length > 0) {
    const plan =
      keepAll || LEAST_EACH * laid.length < triangles
        ? planWith(surface, pattern, plain, wall, laid, triangles, keepAll)
        : undefined;
    if (plan) return { plan, leftOut: leftOut.sort((a, b) => a - b) };
    // The carving with the most openings goes first.
    const many = new Map<number, number>();
    for (const { carving } of laid) many.set(carving, (many.get(carving) ?? 0) + 1);
    const [most] = [...many].reduce((a, b) => (b[1] > a[1] ? b : a));
    leftOut.push(most);
    laid = laid.filter(({ carving }) => carving !== most);
  }
  return { leftOut: leftOut.sort((a, b) => a - b) };
};

const planWith = (
  surface: Surface,
  pattern: Pattern,
  plain: Rings,
  wall: Unrolled,
  laid: readonly Laid[],
  triangles: number,
  keepAll: boolean,
): CarvedPlan | undefined => {
  const { stations } = plain;
  const { hasFloor } = surface.section;
  const lines = laid.map((one) => lineOnWall(wall, one));
  const gaps = gapsOf(wall, lines, WIDE * plain.general);
  for (const level of LEVELS) {
    const field = needField(wall, lines, wishesOf(lines, gaps, level));
    const rows = rowsOf(field, wall, lines);
    const look = (rings: Rings) => {
      const general = generalSpacing(surface, stations, pattern, rings.general);
      const wallRing = rings.lengths.findIndex((s) => s >= wall.from - 1e-6);
      const [low, high] = patchEnds(rings, rows, lines, general, wallRing);
      const inside = patchTriangles(field, rows, general, rings.lengths[low], rings.lengths[high]);
      const outside = {
        ...rings,
        counts: rings.counts.map((n, i) => (i <= low || i >= high ? n : 0)),
      };
      // Between the two end rings no strip of rings is drawn.
      const around = trianglesOf(outside, hasFloor) - rings.counts[low] - rings.counts[high];
      return { low, high, general, inside, total: around + inside };
    };
    const coarsest = COARSER * plain.general;
    const most = look(layOut(surface, stations, pattern, coarsest));
    const mustFit = !keepAll || level !== LEVELS[LEVELS.length - 1];
    if (mustFit && most.total > OVER_WISH * triangles) continue;
    const rings = ringsFor(surface, pattern, triangles, {
      stations,
      count: (r) => look(r).total,
      coarsest,
    });
    const { low, high, general, inside } = look(rings);
    const spacing_mm = (x: number, y: number): number => Math.min(general(wall.lengthOfY(y)), field.at(x, y));
    return { wall, laid, lines, rings, low, high, spacing_mm, nodes: Math.ceil(inside) };
  }
  return undefined;
};
