import { z } from 'zod';
import { along } from '../along.ts';
import { smooth } from '../smooth.ts';
import { type Alter, pushOut, radians } from './alteration.ts';

/** Flats pressed or paddled into the round wall; the edges between them stay on the drawn line. */
export const Facets = z
  .strictObject({
    kind: z.literal('facets'),
    count: z.int().min(3).max(48).describe('How many flats round the piece'),
    flatness: z.number().min(0).max(1).default(1).describe('1: truly flat. 0: still round'),
    from: along().default(0).describe('Where the flats begin along the outer line, 0 at the foot edge'),
    to: along().default(1).describe('Where they end along the outer line, 1 at the lip'),
    turn_deg: z
      .number()
      .min(-360)
      .max(360)
      .default(0)
      .describe('Where the first edge stands, degrees from +x'),
  })
  .describe('Flats; wall thickness stays as drawn');
export type Facets = z.infer<typeof Facets>;

/** The flats fade in and out over this share of the line, unless they run to its end. */
const FADE = 0.08;

const strength = (a: Facets, along: number): number =>
  (a.from <= 0 ? 1 : smooth((along - a.from) / FADE)) * (a.to >= 1 ? 1 : smooth((a.to - along) / FADE));

export const facets: Alter<Facets> = {
  move: (a) => {
    const flat = (2 * Math.PI) / a.count;
    return (place, at) => {
      const phi = place.angle_rad - radians(a.turn_deg);
      const fromMiddle = phi - flat * Math.floor(phi / flat) - flat / 2;
      // A chord lies at apothem / cos(angle from its middle); its ends stand on the circle.
      const inwards = place.radius_mm * (1 - Math.cos(flat / 2) / Math.cos(fromMiddle));
      return pushOut(place, at, -a.flatness * strength(a, place.along) * inwards);
    };
  },
  folds: (a) => a.count,
  turn: (a) => radians(a.turn_deg),
  finest_rad: (a) => (2 * Math.PI) / a.count,
};
