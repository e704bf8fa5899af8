import { verticalExtent, widestLevel } from '../../kernel/mesh/extent.ts';
import { halfWalls } from '../../kernel/mesh/half-walls.ts';
import { sheetMass } from '../../kernel/mesh/sheet-mass.ts';
import { liquidVolume } from '../../kernel/mesh/volume.ts';
import type { Measures } from './measures.ts';
import type { FormMesh } from './mesh-form.ts';

/** Outside width of the foot: the mid-surface there, and half the wall that rises from it on either side. */
const footWidth = (piece: FormMesh, half: Float64Array): number => {
  const edge = new Set(piece.footEdge);
  let [sum, count] = [0, 0];
  const { triangles: t } = piece;
  for (let i = 0; i < t.length; i += 3) {
    const corners = [t[i], t[i + 1], t[i + 2]];
    if (!corners.some((n) => edge.has(n))) continue;
    for (const n of corners)
      if (!edge.has(n) && !piece.floor[n]) {
        sum += Math.hypot(half[3 * n], half[3 * n + 1]);
        count++;
      }
  }
  return widestLevel(piece.positions, piece.footEdge) + (2 * sum) / Math.max(1, count);
};

/**
 * Measures a piece from its mesh: before or after the fire, sagged or not, as long as triangles and tags are those
 * of its form. Positions upright (lip above foot); metres in, SI out.
 */
export const measure = (piece: FormMesh, density_kg_m3: number): Measures => {
  const { positions, triangles, thickness_m } = piece;
  const half = halfWalls(piece);
  const outer = positions.map((x, i) => x + half[i]);
  const inner = positions.map((x, i) => x - half[i]);
  // Heights from half a wall exactly: a mitred corner would reach below the shelf it stands on.
  const plain = half.map((x, i) => {
    const n = 3 * Math.floor(i / 3);
    return (x * 0.5 * thickness_m[n / 3]) / (Math.hypot(half[n], half[n + 1], half[n + 2]) || 1);
  });
  const out = verticalExtent(positions.map((x, i) => x + plain[i]));
  const within = verticalExtent(positions.map((x, i) => x - plain[i]));
  const mass = sheetMass(piece);
  let brim = Number.POSITIVE_INFINITY;
  // A pierced piece holds what stands below its lowest opening.
  for (const rim of [piece.lipNodes, ...(piece.carved?.rims ?? [])])
    for (const n of rim) brim = Math.min(brim, inner[3 * n + 2]);
  const foot = footWidth(piece, half);
  return {
    height_m: Math.max(out.high, within.high) - Math.min(out.low, within.low),
    widest_m: Math.max(foot, widestLevel(outer)),
    lipWidth_m: widestLevel(positions, piece.lipNodes),
    footWidth_m: foot,
    area_m2: mass.area_m2,
    clayVolume_m3: mass.volume_m3,
    weight_kg: mass.volume_m3 * density_kg_m3,
    capacity_m3: piece.open ? 0 : Math.max(0, liquidVolume(inner, triangles, brim, [0])),
    centreOfMass_m: mass.centre_m,
    thinnestWall_m: thickness_m.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
    thickestWall_m: thickness_m.reduce((a, b) => Math.max(a, b), 0),
  };
};
