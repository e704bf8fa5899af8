import { z } from 'zod';
import { along } from '../along.ts';
import { curveThrough } from '../curve.ts';
import { type Alter, pushOut, radians } from './alteration.ts';

/** Ridges and hollows running up the wall: few and deep are lobes, many and shallow are flutes. */
export const Lobes = z
  .strictObject({
    kind: z.literal('lobes'),
    count: z.int().min(2).max(96).describe('How many ridges round the piece'),
    depth: z
      .array(
        z.strictObject({
          along: along(),
          depth_mm: z
            .number()
            .min(-100)
            .max(100)
            .describe('Ridge to hollow, mm; the drawn line runs half way'),
        }),
      )
      .min(1)
      .max(20)
      .describe('How deep, from foot to lip; a smooth curve through these, level beyond the first and last'),
    roundness: z
      .number()
      .min(0)
      .max(1)
      .default(1)
      .describe('1: a soft wave. 0: sharp ridges with round hollows between'),
    twist_deg: z
      .number()
      .min(-720)
      .max(720)
      .default(0)
      .describe('Turn of the ridges from foot to lip, degrees'),
    turn_deg: z
      .number()
      .min(-360)
      .max(360)
      .default(0)
      .describe('Where the first ridge starts, degrees from +x'),
  })
  .describe('Ridges and hollows up the wall; wall thickness stays as drawn');
export type Lobes = z.infer<typeof Lobes>;

const turn = (a: Lobes, along: number): number => radians(a.turn_deg + a.twist_deg * along);

/** Soft wave cos(phi), or ridges 1 - 2|sin(phi/2)|; both 1 on the ridge, -1 in the hollow. */
const wave = (phi: number, roundness: number): number =>
  roundness * Math.cos(phi) + (1 - roundness) * (1 - 2 * Math.abs(Math.sin(phi / 2)));

export const lobes: Alter<Lobes> = {
  move: (a) => {
    const depth_mm = curveThrough(a.depth.map((d) => [d.along, d.depth_mm] as const));
    return (place, at) => {
      const phi = a.count * (place.angle_rad - turn(a, place.along));
      return pushOut(place, at, 0.5 * depth_mm(place.along) * wave(phi, a.roundness));
    };
  },
  folds: (a) => a.count,
  turn,
  finest_rad: (a) => (2 * Math.PI) / a.count,
};
