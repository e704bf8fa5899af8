import { z } from 'zod';
import { metresFromMm } from '../../../units.ts';
import { arc } from './outline.ts';
import { drawn, hollowed } from './profile.ts';
import { EDGE_mm, place, type Shape, shrinks } from './prop.ts';

export const Saddle = z
  .strictObject({
    kind: z.literal('saddle'),
    ...place(),
    length_mm: z.number().min(5).max(500).describe("Length along the piece's axis, mm"),
    hollowRadius_mm: z.number().min(5).max(500).describe('Radius of the hollow, mm'),
    height_mm: z.number().min(2).max(500).describe('Height of the lowest point of the hollow, mm'),
    shrinks: shrinks(),
  })
  .describe(
    'A cradle across the axis: a block with a round hollow that reaches a sixth of a turn up either side',
  );
export type Saddle = z.infer<typeof Saddle>;

const edge_m = metresFromMm(EDGE_mm);
/** How far up either side the hollow reaches, rad: a sixth of a turn. */
const OPEN = Math.PI / 3;
/** Arms as thick as this part of the hollow, and never thinner than that, mm: our own saddles. */
const ARM_SHARE = 0.15;
const ARM_mm = 8;

const sizes = (p: Saddle) => {
  const radius = metresFromMm(p.hollowRadius_mm);
  const arm = metresFromMm(Math.max(ARM_mm, ARM_SHARE * p.hollowRadius_mm));
  return {
    radius,
    centre: metresFromMm(p.height_mm) + radius,
    outer: radius * Math.sin(OPEN) + arm,
  };
};

export const saddle: Shape<Saddle> = {
  distance: (p) => {
    const { radius, centre, outer } = sizes(p);
    // Drawn smaller all round, a hollow is wider.
    const profile = hollowed(radius + edge_m, centre, OPEN, outer - edge_m);
    const half = metresFromMm(p.length_mm) / 2 - edge_m;
    return drawn(profile, metresFromMm(p.x_mm), metresFromMm(p.y_mm), half, edge_m);
  },
  outline: (p) => {
    const { radius, centre, outer } = sizes(p);
    const [tipAcross, tipUp] = [
      (radius + edge_m) * Math.sin(OPEN),
      centre - (radius + edge_m) * Math.cos(OPEN),
    ];
    const right: (readonly [number, number])[] = [
      [outer, 0],
      ...arc(outer - edge_m, tipUp, edge_m, 0, Math.PI / 2),
      ...arc(tipAcross, tipUp, edge_m, Math.PI / 2, Math.PI / 2 + OPEN),
      ...arc(0, centre, radius, -Math.PI / 2 + OPEN, -Math.PI / 2, 12).slice(1),
    ];
    return [
      ...right,
      ...right
        .map(([u, v]) => [-u, v] as const)
        .reverse()
        .slice(1),
    ];
  },
  sweep: (p) => ({
    kind: 'along',
    x_m: metresFromMm(p.x_mm),
    y_m: metresFromMm(p.y_mm),
    length_m: metresFromMm(p.length_mm),
    turn_rad: 0,
  }),
  top_m: (p) => {
    const { radius, centre } = sizes(p);
    return centre - (radius + edge_m) * Math.cos(OPEN) + edge_m;
  },
};
