import { z } from 'zod';
import { badInputs } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import { disagreements } from './consistency.ts';
import { known } from './known.ts';

const density = (what: string) => known({ value_kg_m3: z.number().min(500).max(6000).describe(what) });
const shrinkage = (what: string) => known({ value_percent: z.number().min(0).max(30).describe(what) });
const percent = (what: string, most: number) =>
  known({ value_percent: z.number().min(0).max(most).describe(what) });

/**
 * A clay as a file: every value carries its unit in its name and how we know it.
 * Shrinkages are linear; drying on the wet length, firing on the bone-dry length (as in ASTM C326).
 */
export const Clay = z
  .strictObject({
    afterfire: z.literal('clay/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().optional(),
    solidDensity: density('Density of the mineral grains, without pores or water'),
    throwingMoisture: percent('Water in the clay as it is thrown, as a share of its dry weight', 60),
    wetDensity: density(
      'Bulk density as thrown; left out, it follows from moisture and solid density',
    ).optional(),
    dryingShrinkage: shrinkage('Linear, as thrown to bone dry'),
    boneDryDensity: density('Bulk density, bone dry'),
    lossOnIgnition: percent('Weight lost in the fire as a share of the bone-dry weight', 30),
    firingShrinkage: shrinkage('Linear, bone dry to fully fired, on the bone-dry length'),
    firedDensity: density('Bulk density, fully fired'),
    openPorosityFired: percent('Open pores of the fully fired body, by volume', 40),
    closedPorosityFired: percent('Closed pores of the fully fired body, by volume', 40),
    sintering: known({
      rate_per_h: z
        .number()
        .positive()
        .max(1e6)
        .describe('How fast pores close at `at_C`: share of those left, per hour'),
      at_C: z.number().min(600).max(1600),
      activation_kJ_mol: z.number().min(50).max(1500),
    }).describe('Kinetics: pores left, theta, follow d(theta)/dt = -k(T) theta, k by Arrhenius'),
    sagViscosity: known({
      value_Pa_s: z
        .number()
        .min(1e4)
        .max(1e16)
        .describe('Shear viscosity of the dense (fully fired) body at `at_C`'),
      at_C: z.number().min(600).max(1600),
      activation_kJ_mol: z.number().min(50).max(1500),
      factor80: z
        .number()
        .min(1)
        .max(100)
        .describe('How sure: the true value lies within value/factor to value*factor with 80 % probability'),
    }),
  })
  .meta({ title: 'Afterfire clay', description: 'A clay (body), with the provenance of each value' });
export type Clay = z.infer<typeof Clay>;

/**
 * Read a clay from data.
 * @throws AfterfireError `bad-input`: wrong shape (each bad field), or values that contradict one another
 *   (which, and by how much)
 */
export const parseClay = (json: unknown): Clay => {
  const clay = parseShape(Clay, json, 'clay');
  const faults = disagreements(clay);
  if (faults.length > 0) throw badInputs(faults);
  return clay;
};
