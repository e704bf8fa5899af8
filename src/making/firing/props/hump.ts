import { z } from 'zod';
import { metresFromMm } from '../../../units.ts';
import { arc } from './outline.ts';
import { place, type Shape, shrinks } from './prop.ts';

export const Hump = z
  .strictObject({
    kind: z.literal('hump'),
    ...place(),
    width_mm: z.number().min(5).max(800).describe('Across at the shelf, mm'),
    height_mm: z.number().min(2).max(500).describe('Height above the shelf, mm'),
    shrinks: shrinks(),
  })
  .describe('A rounded mound: part of a ball; taller than half its width, a post with a round top');
export type Hump = z.infer<typeof Hump>;

/** Radius of the ball and the height of its middle, m. */
const ball = (p: Hump): { radius: number; centre: number } => {
  const [w, h] = [metresFromMm(p.width_mm) / 2, metresFromMm(p.height_mm)];
  const radius = h < w ? (w * w + h * h) / (2 * h) : w;
  return { radius, centre: h - radius };
};

export const hump: Shape<Hump> = {
  distance: (p) => {
    const { radius, centre } = ball(p);
    const [x0, y0] = [metresFromMm(p.x_mm), metresFromMm(p.y_mm)];
    return (x, y, z, out) => {
      // Below the middle of the ball of a tall hump it goes down straight.
      const up = centre > 0 ? Math.max(0, z - centre) : z - centre;
      const d = Math.hypot(x - x0, y - y0, up);
      out[0] = d > 0 ? (x - x0) / d : 0;
      out[1] = d > 0 ? (y - y0) / d : 0;
      out[2] = d > 0 ? up / d : 1;
      out[3] = d - radius;
    };
  },
  outline: (p) => {
    const { radius, centre } = ball(p);
    const foot = centre > 0 ? 0 : Math.asin(-centre / radius);
    const top = arc(0, centre, radius, foot, Math.PI / 2, 12);
    return centre > 0 ? [[radius, 0], ...top] : top;
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
