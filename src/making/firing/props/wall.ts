import { z } from 'zod';
import { metresFromMm } from '../../../units.ts';
import { type Shape, shrinks } from './prop.ts';

export const Wall = z
  .strictObject({
    kind: z.literal('wall'),
    away_mm: z
      .number()
      .min(0)
      .max(1000)
      .default(0)
      .describe(
        'How far its face stands away, mm; a piece in its way is first pushed back until it just touches',
      ),
    towards_deg: z
      .number()
      .min(-360)
      .max(360)
      .default(0)
      .describe('On which side it stands, degrees from x; 0 is the side a leaning piece leans to'),
    shrinks: shrinks(),
  })
  .describe('An upright face to lean on, taller than the piece');
export type Wall = z.infer<typeof Wall>;

const turn = (p: Wall): number => (p.towards_deg * Math.PI) / 180;
/** As drawn: this thick. */
const BOARD_m = 0.015;

export const wall: Shape<Wall> = {
  distance: (p) => {
    const [c, s] = [Math.cos(turn(p)), Math.sin(turn(p))];
    const away = metresFromMm(p.away_mm);
    return (x, y, _z, out) => {
      out[0] = -c;
      out[1] = -s;
      out[2] = 0;
      out[3] = away - c * x - s * y;
    };
  },
  outline: (_p, reach_m) => [
    [BOARD_m / 2, 0],
    [BOARD_m / 2, reach_m],
    [-BOARD_m / 2, reach_m],
    [-BOARD_m / 2, 0],
  ],
  sweep: (p, reach_m) => {
    const away = metresFromMm(p.away_mm) + BOARD_m / 2;
    return {
      kind: 'along',
      x_m: away * Math.cos(turn(p)),
      y_m: away * Math.sin(turn(p)),
      length_m: reach_m,
      // The outline's "across" is y: a quarter turn back it points away from the piece.
      turn_rad: turn(p) - Math.PI / 2,
    };
  },
  top_m: () => Number.POSITIVE_INFINITY,
};
