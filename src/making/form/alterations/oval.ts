import { z } from 'zod';
import { type Alter, radians } from './alteration.ts';

/** Squeezed between two hands: longer one way, narrower the other, floor and all. */
export const Oval = z
  .strictObject({
    kind: z.literal('oval'),
    longer_percent: z
      .number()
      .min(0)
      .max(100)
      .describe('How much longer the long axis is than the round piece, percent; the other shrinks to match'),
    turn_deg: z
      .number()
      .min(-360)
      .max(360)
      .default(0)
      .describe('Direction of the long axis, degrees from +x'),
  })
  .describe('The piece squeezed to an oval, area of the opening kept');
export type Oval = z.infer<typeof Oval>;

export const oval: Alter<Oval> = {
  move: (a) => {
    const c = Math.cos(radians(a.turn_deg));
    const s = Math.sin(radians(a.turn_deg));
    const k = 1 + a.longer_percent / 100;
    return (_place, [x, y, z]) => {
      const long = k * (c * x + s * y);
      const short = (c * y - s * x) / k;
      return [c * long - s * short, s * long + c * short, z];
    };
  },
  folds: () => 1,
  turn: () => 0,
  finest_rad: () => Math.PI,
};
