import { z } from 'zod';
import { along } from './along.ts';
import { Alteration } from './alterations/table.ts';
import { Carving } from './carving/carving-shape.ts';
import { Uneven } from './uneven/uneven-shape.ts';

/** A form file larger than this is not read; a real one is a few kB. */
export const MAX_FORM_BYTES = 1_000_000;

const thickness = (what: string) => z.number().min(0.3).max(60).describe(what);

const LinePoint = z.strictObject({
  radius_mm: z.number().min(0.1).max(1000).describe('Distance of the outside from the axis, mm'),
  height_mm: z.number().min(0).max(2000).describe('Height above the shelf, mm'),
});

const WallPoint = z.strictObject({
  along: along(),
  thickness_mm: thickness('Wall thickness at right angles to the wall, mm'),
});

const Foot = z
  .discriminatedUnion('kind', [
    z
      .strictObject({ kind: z.literal('disc'), thickness_mm: thickness('Floor thickness, mm') })
      .describe('A flat floor lying on the shelf'),
    z
      .strictObject({
        kind: z.literal('ring'),
        thickness_mm: thickness('Floor thickness, mm'),
        width_mm: z.number().min(1).max(100).describe('Width of the ring, mm, inwards from the foot edge'),
        recess_mm: z
          .number()
          .min(0.5)
          .max(100)
          .describe("How high the floor's underside is above the shelf, mm"),
      })
      .describe('A turned foot ring with a raised floor inside'),
    z.strictObject({ kind: z.literal('none') }).describe('No floor: a tube, open at both ends'),
  ])
  .describe('What it stands on');

const Lip = z
  .strictObject({
    thickness_mm: thickness('Wall thickness at the very lip, mm'),
    over_mm: z.number().min(0.5).max(100).describe('Length of wall over which it runs to that, mm'),
  })
  .describe('The lip thinned or thickened; left out, the wall simply ends');

/** A form as a file: a turned line, its wall, its foot and lip, then what the hands do to it, in order. */
export const Form = z
  .strictObject({
    afterfire: z.literal('form/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().max(2000).optional(),
    sizes: z
      .enum(['thrown', 'fired'])
      .describe(
        'thrown: every mm is of the wet piece. fired: every mm is as wanted after shrinkage, before sag',
      ),
    line: z
      .array(LinePoint)
      .min(2)
      .max(60)
      .describe('The outer line from foot edge to lip; a smooth curve through these points'),
    wall: z
      .array(WallPoint)
      .min(1)
      .max(40)
      .describe('Thickness along the line; a smooth curve through these, level beyond the first and last'),
    foot: Foot,
    lip: Lip.optional(),
    alterations: z
      .array(Alteration)
      .max(30)
      .default([])
      .describe('What the hands do to the round piece, in order'),
    carving: z
      .array(Carving)
      .max(60)
      .default([])
      .describe('What is cut through the finished shape or carved into its outside'),
    uneven: Uneven.optional(),
    untwist_deg: z
      .number()
      .min(-180)
      .max(180)
      .optional()
      .describe(
        'How far the lip turns against the foot in drying and fire, degrees, counter-clockwise seen from above; measured on own pieces, left out where not known',
      ),
  })
  .describe('A form: the piece as drawn');
export type Form = z.infer<typeof Form>;
export type Foot = Form['foot'];
