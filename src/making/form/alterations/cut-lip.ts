import { z } from 'zod';
import { type Alter, radians } from './alteration.ts';

/** The lip cut with a wire or a knife: material is taken away, the wall below stays where it is. */
export const CutLip = z
  .strictObject({
    kind: z.literal('cut lip'),
    count: z.int().min(1).max(48).describe('How many waves or notches round the lip'),
    depth_mm: z.number().min(0).max(200).describe('Deepest cut, mm along the wall from the drawn lip'),
    shape: z
      .enum(['wave', 'notch'])
      .default('wave')
      .describe('wave: soft all round. notch: narrow cuts, lip left between'),
    turn_deg: z
      .number()
      .min(-360)
      .max(360)
      .default(0)
      .describe('Where the first cut is deepest, degrees from +x'),
  })
  .describe('The lip line cut wavy or notched');
export type CutLip = z.infer<typeof CutLip>;

/** A notch is this power of the wave: about a third as wide at half depth. */
const NOTCH = 6;

export const cutLip: Alter<CutLip> = {
  trim: (a) => (angle_rad) => {
    const wave = 0.5 + 0.5 * Math.cos(a.count * (angle_rad - radians(a.turn_deg)));
    return a.depth_mm * (a.shape === 'wave' ? wave : wave ** NOTCH);
  },
  folds: (a) => a.count,
  turn: (a) => radians(a.turn_deg),
  finest_rad: (a) => ((a.shape === 'wave' ? 2 : 1) * Math.PI) / a.count,
};
