import type { Pattern } from '../pattern.ts';
import type { Place } from '../place-nodes.ts';
import { ringAngles } from '../ring-angles.ts';
import type { Stations } from '../sizes.ts';
import type { Surface } from '../surface.ts';
import type { Laid } from './lay.ts';
import { fillPatch, type Patch } from './patch.ts';
import { type CarvedPlan, planCarved } from './plan.ts';
import { rimOf } from './rim.ts';
import type { Unrolled } from './unroll.ts';

/** A piece's rings of nodes with one band between two of them triangulated freely, openings cut out. */
export interface CarvedBand {
  readonly lengths: readonly number[];
  readonly angles: readonly Float64Array[];
  /** The band lies between this ring and the next. */
  readonly after: number;
  /** Its own nodes: those of the rims, then those between. */
  readonly places: readonly Place[];
  /** Triangles and rims in numbers of their own: the lower ring's nodes, the upper ring's, then `places`. */
  readonly patch: Patch;
  /** How far down and up a ring's nodes stand for, where the band is on that side (mm along the section). */
  readonly reachBeside: (ring: number) => { readonly below?: number; readonly above?: number };
}

const TURN = 2 * Math.PI;

/** Angles of a ring where the openings come too near for even ones: nodes as dense as the spacing asks for. */
const gradedAngles = (plan: CarvedPlan, length: number): Float64Array => {
  const { wall, spacing_mm } = plan;
  const y = wall.y(length);
  const fine = 720;
  const sum = new Float64Array(fine + 1);
  for (let k = 0; k < fine; k++)
    sum[k + 1] = sum[k] + ((TURN / fine) * wall.scale(length)) / spacing_mm((TURN * (k + 0.5)) / fine, y);
  const count = Math.max(6, Math.round(sum[fine]));
  const out = new Float64Array(count);
  let k = 0;
  for (let j = 1; j < count; j++) {
    const want = (sum[fine] * j) / count;
    while (sum[k + 1] < want) k++;
    out[j] = wall.angle(length, (TURN * (k + (want - sum[k]) / (sum[k + 1] - sum[k]))) / fine);
  }
  return out;
};

/** Even rings stay; one to which the openings come nearer than its own spacing is stood anew. */
const edgeAngles = (plan: CarvedPlan, ring: number, even: Float64Array, last: boolean): Float64Array => {
  const { wall, spacing_mm, rings } = plan;
  const length = rings.lengths[ring];
  if (!last && ring > 0 && length > wall.from + 1e-6) return even;
  const own = (TURN * wall.scale(length)) / even.length;
  const y = wall.y(length);
  for (let k = 0; k < 180; k++)
    if (spacing_mm((TURN * k) / 180, y) < 0.8 * own) return gradedAngles(plan, length);
  return even;
};

const placesOf = (
  wall: Unrolled,
  patch: Patch,
  first: number,
  spacing_mm: CarvedPlan['spacing_mm'],
): Place[] =>
  Array.from({ length: patch.x.length - first }, (_, k) => {
    const [x, y] = [patch.x[first + k], patch.y[first + k]];
    const length = wall.lengthOfY(y);
    const size = spacing_mm(x, y);
    return {
      length,
      angle_rad: wall.angle(length, x),
      below: Math.max(wall.from, length - size),
      above: Math.min(wall.to, length + size),
      beside: size / wall.scale(length),
    };
  });

/** Lays out the mesh of a pierced piece; without a band when so few triangles can show none of the openings. */
export const carvedBand = (
  surface: Surface,
  stations: Stations,
  pattern: Pattern,
  openings: readonly Laid[],
  triangles: number,
  keepAll: boolean,
): { band?: CarvedBand; leftOut: readonly number[] } => {
  const { plan, leftOut } = planCarved(surface, stations, pattern, openings, triangles, keepAll);
  if (!plan) return { leftOut };
  const { wall, rings, low, high, spacing_mm } = plan;
  const keep = rings.lengths.map((_, i) => i <= low || i >= high);
  const even = ringAngles(surface, rings, pattern);
  const last = rings.lengths.length - 1;
  even[low] = edgeAngles(plan, low, even[low], false);
  even[high] = edgeAngles(plan, high, even[high], high === last);
  const lengths = rings.lengths.filter((_, i) => keep[i]);
  const angles = even.filter((_, i) => keep[i]);
  const edge = (ring: number) => {
    const length = rings.lengths[ring];
    return { x: even[ring].map((angle) => wall.x(length, angle)), y: wall.y(length) };
  };
  const spacing = (x: number, y: number): number => spacing_mm(x, y) / wall.scale(wall.lengthOfY(y));
  const rims = plan.laid.map((laid, i) => rimOf(wall, laid, plan.lines[i], (x, y) => spacing_mm(x, y)));
  const patch = fillPatch(edge(low), edge(high), rims, spacing, 3 * plan.nodes + 1000);
  const places = placesOf(wall, patch, even[low].length + even[high].length, spacing_mm);
  const step = (ring: number): number => (TURN * wall.scale(rings.lengths[ring])) / even[ring].length;
  return {
    leftOut,
    band: {
      lengths,
      angles,
      after: low,
      places,
      patch,
      reachBeside: (ring) => {
        if (ring === low) return { above: rings.lengths[low] + step(low) };
        return ring === low + 1 ? { below: rings.lengths[high] - step(high) } : {};
      },
    },
  };
};
