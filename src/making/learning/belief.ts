import { z } from 'zod';

/**
 * What is believed of a clay, of the kilns it is fired in and of the hand that throws it, as means and standard
 * deviations of a joint normal. Clay and kiln hang together: a piece that sagged much says "soft clay or hot kiln".
 */
const normal = (what: string) =>
  z.strictObject({ mean: z.number(), sd: z.number().nonnegative() }).describe(what);

export const KilnBelief = z.strictObject({
  name: z.string().min(1),
  mean_K: z.number().describe('How much hotter at the peak than the schedule says'),
  sd_K: z.number().nonnegative(),
  withSoftness: z.number().min(-1).max(1).describe('Correlation of the offset with the softness'),
});
export type KilnBelief = z.infer<typeof KilnBelief>;

export const Belief = z.strictObject({
  softness: normal('ln of how many times softer than the reference the clay is'),
  size: normal('ln of fired sizes against those the clay file gives'),
  wall: normal(
    'ln of the scatter: how much pieces of one form differ in the ln of their softness, walls not being as drawn',
  ),
  kilns: z.array(KilnBelief),
});
export type Belief = z.infer<typeof Belief>;
