import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { BandShape, Bands } from '../../making/firing/firing.ts';

/** Walls thinner than this would leave gaps between two shapes drawn further apart, m. */
const APART_m = 0.0008;
const MOST_SHAPES = 24;

const furthest_m = (a: Float64Array, b: Float64Array): number => {
  let most = 0;
  for (let i = 0; i < a.length; i += 3)
    most = Math.max(most, Math.hypot(b[i] - a[i], b[i + 1] - a[i + 1], b[i + 2] - a[i + 2]));
  return most;
};

const between = (a: Float64Array, b: Float64Array, share: number): Float64Array =>
  a.map((x, i) => x + share * (b[i] - x));

/** From one shape to another in so many steps that their walls overlap. */
const sweep = (triangles: Uint32Array, from: BandShape, to: BandShape): WallMesh[] => {
  const wanted = Math.ceil(furthest_m(from.positions, to.positions) / APART_m);
  const steps = Math.min(MOST_SHAPES, Math.max(1, wanted));
  return Array.from({ length: steps + 1 }, (_, k) => ({
    triangles,
    positions: between(from.positions, to.positions, k / steps),
    thickness_m: between(from.thickness_m, to.thickness_m, k / steps),
  }));
};

/** The shapes from the stiffest to the softest likely one, by way of the fired piece: together they cover the band. */
export const bandShapes = (fired: WallMesh, { stiff, soft }: Bands): WallMesh[] => {
  const nominal: BandShape = { ...fired, section: [] };
  return [...sweep(fired.triangles, stiff, nominal), ...sweep(fired.triangles, nominal, soft)];
};
