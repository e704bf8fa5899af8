import { z } from 'zod';
import { along } from '../along.ts';
import { type Alter, pushOut, radians } from './alteration.ts';

/** A finger's or a rib's mark: a soft bump or dent at one place of the wall. */
export const Push = z
  .strictObject({
    kind: z.literal('push'),
    angle_deg: z.number().min(-360).max(360).describe('Where round the piece, degrees from +x'),
    along: along(),
    reach_mm: z.number().min(2).max(500).describe('How far from its middle the mark reaches, mm on the wall'),
    depth_mm: z.number().min(-150).max(150).describe('How deep, mm: positive out, negative in'),
  })
  .describe('A soft bump or dent at one place; wall thickness stays as drawn');
export type Push = z.infer<typeof Push>;

const wrap = (angle: number): number => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));

export const push: Alter<Push> = {
  move: (a) => (place, at) => {
    const across = place.radius_mm * wrap(place.angle_rad - radians(a.angle_deg));
    const up = place.lineLength_mm * (place.along - a.along);
    const away = Math.hypot(across, up) / a.reach_mm;
    if (away >= 1) return at;
    // (1 - d²)³: smooth to its second derivative at the edge of the mark.
    return pushOut(place, at, a.depth_mm * (1 - away * away) ** 3);
  },
  folds: () => 1,
  turn: () => 0,
  finest_rad: () => Math.PI,
};
