import { z } from 'zod';
import { metresFromMm } from '../../../units.ts';
import { arc } from './outline.ts';
import { band, turned } from './profile.ts';
import { EDGE_mm, place, type Shape, shrinks } from './prop.ts';

export const Post = z
  .strictObject({
    kind: z.literal('post'),
    ...place(),
    width_mm: z.number().min(5).max(300).describe('Across, mm'),
    height_mm: z.number().min(2).max(1500).describe('Height above the shelf, mm'),
    shrinks: shrinks(),
  })
  .describe('An upright round post with a flat top');
export type Post = z.infer<typeof Post>;

const edge_m = metresFromMm(EDGE_mm);

export const post: Shape<Post> = {
  distance: (p) => {
    const radius = metresFromMm(p.width_mm) / 2 - edge_m;
    const profile = band(-radius, radius, metresFromMm(p.height_mm) - edge_m);
    return turned(profile, metresFromMm(p.x_mm), metresFromMm(p.y_mm), edge_m);
  },
  outline: (p) => {
    const [r, h] = [metresFromMm(p.width_mm) / 2, metresFromMm(p.height_mm)];
    return [[r, 0], ...arc(r - edge_m, h - edge_m, edge_m, 0, Math.PI / 2), [0, h]];
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
