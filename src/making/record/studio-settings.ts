import { z } from 'zod';
import { parseShape } from '../../shape.ts';
import { isZone } from './instant.ts';

/** How a studio wants its record: what is not given is filled with the usual. */
export const StudioSettings = z.strictObject({
  name: z.string().min(1).max(80).default('Studio'),
  lengths: z.enum(['mm', 'in']).default('mm'),
  temperatures: z.enum(['C', 'F']).default('C'),
  weights: z.enum(['g', 'lb']).default('g'),
  paper: z.enum(['A4', 'Letter']).default('A4'),
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, 'three capital letters of ISO 4217, like EUR')
    .default('EUR'),
  zone: z.string().refine(isZone, 'a zone of the IANA database, like Europe/Berlin').default('UTC'),
  carveFrom_h: z
    .number()
    .min(0)
    .max(2000)
    .default(18)
    .describe('Hours of drying after which a wall can usually be carved. A guess until the studio says'),
  carveUntil_h: z
    .number()
    .min(0)
    .max(2000)
    .default(48)
    .describe('Hours after which it is usually too dry for it. A guess until the studio says'),
  clay: z.string().optional().describe('Key of the usual clay'),
  kiln: z.string().optional().describe('Key of the usual kiln'),
  schedule: z.string().optional().describe('Key of the usual schedule'),
  invented: z.boolean().default(false).describe('All in this record is made up'),
});
export type StudioSettings = z.infer<typeof StudioSettings>;

/** @throws AfterfireError `bad-input`, one fault per bad field */
export const parseStudioSettings = (json: unknown): StudioSettings =>
  parseShape(StudioSettings, json, 'settings');
