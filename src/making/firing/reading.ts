import { skinShareOf, wallAtNodes } from '../../kernel/shell/soft-shape.ts';
import { measure } from '../form/measure.ts';
import type { Measures } from '../form/measures.ts';
import { greatest, mostDrop, sagOf, topDrop } from './moved.ts';
import type { Placed } from './placed.ts';
import { turnBack } from './set-down.ts';

/** What is measured on a shape, by name. */
export type Readings = Readonly<Record<string, number>>;

/** What is read off every shape, fine or coarse, at its true fired size; `positions` in bone-dry lengths. */
export const readShape = (
  b: Placed,
  positions: Float64Array,
  wall: Float64Array,
  density_kg_m3: number,
): { readonly measures: Measures; readonly readings: Readings } => {
  const L = b.scale;
  const { triangles } = b.mesh;
  const skinShare = skinShareOf(b.mesh.thickness_m, b.down.positions, triangles);
  const thickness = wallAtNodes({ positions, thickness_m: wall, skinShare }, triangles).map((h) => L * h);
  const fired = positions.map((x) => L * x);
  const upright = { ...b.mesh, positions: turnBack(fired, b.down.turn), thickness_m: thickness };
  const m = measure(upright, density_kg_m3);
  const dry = b.down.shrunkOnly;
  return {
    measures: m,
    readings: {
      height_m: m.height_m,
      widest_m: m.widest_m,
      lipWidth_m: m.lipWidth_m,
      footWidth_m: m.footWidth_m,
      weight_kg: m.weight_kg,
      capacity_m3: m.capacity_m3,
      topDrop_m: topDrop(dry, fired, L),
      lipDrop_m: mostDrop(b.mesh.lipNodes, dry, fired, L),
      greatestSag_m: greatest(sagOf(dry, fired, L)),
      thinnestWall_m: m.thinnestWall_m,
    },
  };
};

/** Measures of the same shape at another size and weight. */
export const scaled = (m: Measures, length: number, mass: number): Measures => ({
  height_m: m.height_m * length,
  widest_m: m.widest_m * length,
  lipWidth_m: m.lipWidth_m * length,
  footWidth_m: m.footWidth_m * length,
  area_m2: m.area_m2 * length ** 2,
  clayVolume_m3: m.clayVolume_m3 * length ** 3,
  weight_kg: m.weight_kg * mass,
  capacity_m3: m.capacity_m3 * length ** 3,
  centreOfMass_m: [m.centreOfMass_m[0] * length, m.centreOfMass_m[1] * length, m.centreOfMass_m[2] * length],
  thinnestWall_m: m.thinnestWall_m * length,
  thickestWall_m: m.thickestWall_m * length,
});
