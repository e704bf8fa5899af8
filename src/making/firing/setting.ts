import { z } from 'zod';
import { Prop } from './props/table.ts';

/** How a piece stands in the kiln, on what, and where the kiln is hot. */
export const Setting = z.strictObject({
  attitude: z.enum(['upright', 'rim down', 'on its side', 'leaning']),
  /** On its side and leaning: the piece is turned by this much about its own axis first; 0 puts the angle-0 meridian at the bottom. */
  turn_deg: z.number().min(-360).max(360).default(0),
  /** Whether the ware slides on the shelf as it creeps (alumina wash) or grips it. */
  shelf: z.enum(['slides', 'grips']).default('slides'),
  lean_deg: z
    .number()
    .min(0)
    .max(60)
    .default(0)
    .describe('Leaning: how far from upright the piece is set, degrees, the side at turn_deg going down'),
  friction: z
    .number()
    .min(0)
    .max(1.5)
    .optional()
    .describe(
      'How shelf and props hold what rests on them: the slope (rise over run) on which the piece would just slide',
    ),
  props: z
    .array(Prop)
    .max(12)
    .default([])
    .describe(
      'What else it stands on or leans on. x runs along the piece when it lies on its side, foot at -x',
    ),
  hotSide: z
    .strictObject({
      difference_C: z
        .number()
        .min(0)
        .max(150)
        .describe('Hottest less coldest across the width of the piece while it is soft, °C'),
      towards_deg: z
        .number()
        .min(-360)
        .max(360)
        .default(0)
        .describe('On which side it is hotter, degrees from x as the piece stands in the kiln'),
    })
    .optional()
    .describe('One side of the kiln hotter than the other'),
});
export type Setting = z.infer<typeof Setting>;
