import { z } from 'zod';

/** How a piece stands in the kiln. */
export const Setting = z.strictObject({
  attitude: z.enum(['upright', 'rim down', 'on its side']),
  /** On its side: the piece is turned by this much about its own axis first; 0 puts the angle-0 meridian at the bottom. */
  turn_deg: z.number().min(-360).max(360).default(0),
  /** Whether the ware slides on the shelf as it creeps (alumina wash) or grips it. */
  shelf: z.enum(['slides', 'grips']).default('slides'),
});
export type Setting = z.infer<typeof Setting>;
