import { z } from 'zod';
import { metresFromMm } from '../../../units.ts';
import { arc } from './outline.ts';
import { band, turned } from './profile.ts';
import { EDGE_mm, place, type Shape, shrinks } from './prop.ts';

export const Ring = z
  .strictObject({
    kind: z.literal('ring'),
    ...place(),
    insideRadius_mm: z.number().min(5).max(500).describe('Radius of the opening, mm'),
    width_mm: z.number().min(5).max(200).describe('Width of the bar the ring is made of, mm'),
    height_mm: z.number().min(2).max(500).describe('Height above the shelf, mm'),
    shrinks: shrinks(),
  })
  .describe('A ring setter: a flat ring the foot, the rim or the belly sits on');
export type Ring = z.infer<typeof Ring>;

const edge_m = metresFromMm(EDGE_mm);

export const ring: Shape<Ring> = {
  distance: (p) => {
    const inner = metresFromMm(p.insideRadius_mm);
    const outer = inner + metresFromMm(p.width_mm);
    const profile = band(inner + edge_m, outer - edge_m, metresFromMm(p.height_mm) - edge_m);
    return turned(profile, metresFromMm(p.x_mm), metresFromMm(p.y_mm), edge_m);
  },
  outline: (p) => {
    const inner = metresFromMm(p.insideRadius_mm);
    const outer = inner + metresFromMm(p.width_mm);
    const h = metresFromMm(p.height_mm) - edge_m;
    return [
      [outer, 0],
      ...arc(outer - edge_m, h, edge_m, 0, Math.PI / 2),
      ...arc(inner + edge_m, h, edge_m, Math.PI / 2, Math.PI),
      [inner, 0],
    ];
  },
  sweep: (p) => ({
    kind: 'round',
    x_m: metresFromMm(p.x_mm),
    y_m: metresFromMm(p.y_mm),
    length_m: 0,
    turn_rad: 0,
  }),
  top_m: (p) => metresFromMm(p.height_mm),
};
