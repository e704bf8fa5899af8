import { z } from 'zod';
import { along } from '../along.ts';

/** A wall thinner than this holds nothing together; the same floor as everywhere in a form. */
export const THINNEST_mm = 0.3;

const Calliper = z
  .strictObject({
    along: along(),
    angle_deg: z.number().min(-360).max(360).describe('Where round the piece, degrees from +x'),
    thickness_mm: z
      .number()
      .min(THINNEST_mm)
      .max(60)
      .describe('Wall as the callipers read it there, mm, in the sizes of this file'),
  })
  .describe('One reading of the callipers');
export type Calliper = z.infer<typeof Calliper>;

/** How the wall differs round the piece from the one drawn: thrown off centre, or as measured. */
export const Uneven = z
  .strictObject({
    offCentre_mm: z
      .number()
      .min(0)
      .max(30)
      .default(0)
      .describe('How far the inside was opened off the axis, mm: the wall is thinner by this on one side'),
    towards_deg: z
      .number()
      .min(-360)
      .max(360)
      .default(0)
      .describe('Towards which side the inside lies: the thin side, degrees from +x'),
    callipers: z
      .array(Calliper)
      .max(200)
      .default([])
      .describe('Readings on the real wall: it goes through them all, between them within what they say'),
  })
  .describe('An uneven wall: off centre, or measured with callipers');
export type Uneven = z.infer<typeof Uneven>;
