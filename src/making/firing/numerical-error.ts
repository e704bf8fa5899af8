import type { Readings } from './reading.ts';

/**
 * What the calculation itself may be off by, reading by reading.
 *
 * Mesh: the difference to a coarser run, carried on to no triangles' width by an assumed order in their edge (L. F.
 * Richardson, Phil. Trans. A 210 (1911) 307) with the safety factor 3 that P. J. Roache, J. Fluids Eng. 116 (1994) 405,
 * asks of two meshes whose order is assumed; 1.25 was tried and missed the faceted cup at 900 triangles. Flutes, facets
 * and feet that lie on the shelf differently from mesh to mesh make that difference small by luck now and then, so that
 * no less is told than MESH_SHARE of the greatest movement, what meshes of 900 to 9,000 triangles of the examples differ
 * by, nor less than what the greatest movement itself is off by.
 *
 * Steps: the solver's own sum is the mean over nodes; the worst node is up to four times as far off (tube on its side:
 * 0.47 mm where the sum said 0.13). Where nothing lands the sum is far too large (0.04 mm for under 0.001 mm), hence
 * the cap: against 200 and more steps no example was off by more than 1 % of its movement.
 */
export interface RunPair {
  readonly fine: Readings;
  readonly coarse: Readings;
  /** Fine triangles for each coarse one. */
  readonly ratio: number;
  readonly triangles: number;
  /** Round, with nothing pressed, lobed or cut: meshes of it differ less. */
  readonly plain: boolean;
  /** The fine run's summed estimate, root-mean-square over nodes, m. */
  readonly stepError_m: number;
}

const SAFETY = 3;
const ORDER = 2;
/** A lip thinner than a row of triangles shows only as far as the row is narrow. */
const FIRST_ORDER: ReadonlySet<string> = new Set(['thinnestWall_m']);
const MESH_SHARE = { plain: 0.03, altered: 0.1, unknown: 0.2 } as const;
/** Meshes nearer to each other than this tell no difference to carry on: pierced walls that keep their openings. */
const LEAST_RATIO = 1.5;
const MESH_SHARE_AT = 2000;
const WORST_NODE = 4;
const MOST_STEP_SHARE = 0.03;

/** Lengths that movement changes one to one. */
const MOVES: ReadonlySet<string> = new Set([
  'height_m',
  'widest_m',
  'lipWidth_m',
  'footWidth_m',
  'topDrop_m',
  'lipDrop_m',
  'greatestSag_m',
]);

/** ± of each reading, in its own unit. */
export const numericalErrors = (pair: RunPair): Record<string, number> => {
  const { fine, coarse } = pair;
  const moved = fine.greatestSag_m;
  const step = Math.min(WORST_NODE * pair.stepError_m, MOST_STEP_SHARE * moved);
  const apart = pair.ratio >= LEAST_RATIO;
  const carried = (key: string): number => {
    const order = FIRST_ORDER.has(key) ? 1 : ORDER;
    const by = apart ? SAFETY / (pair.ratio ** (order / 2) - 1) : SAFETY;
    return by * Math.abs(coarse[key] - fine[key]);
  };
  const kind = pair.plain ? 'plain' : apart ? 'altered' : 'unknown';
  const share = MESH_SHARE[kind] * Math.sqrt(MESH_SHARE_AT / pair.triangles) * moved;
  const least = Math.max(share, carried('greatestSag_m'));
  return Object.fromEntries(
    Object.keys(fine).map((key) => [
      key,
      MOVES.has(key) ? Math.hypot(Math.max(carried(key), least), step) : carried(key),
    ]),
  );
};
