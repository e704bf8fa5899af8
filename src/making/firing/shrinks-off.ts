import type { Fault } from '../../error.ts';
import { metresFromMm } from '../../units.ts';
import { distanceAt } from './props/obstacles.ts';
import { EDGE_mm } from './props/prop.ts';
import type { Ring } from './props/ring.ts';
import type { Setting } from './setting.ts';
import { type Body, touchesOf } from './settle/body.ts';
import { TOUCHING_m } from './settle/settle.ts';

/**
 * A foot that stands on a ring setter of kiln furniture draws in as it shrinks, and the ring does not: what stood on its
 * flat may pass its inner edge. Told before the fire, since nobody sets a piece so on purpose.
 */

/** Points that bear on the flat of a ring: its normal there points up at least this much. */
const FLAT = 0.95;

const offRing = (body: Body, ring: Ring, endScale: number): { shrunk_m: number } | undefined => {
  const p = body.positions;
  const bearing = touchesOf(body, [distanceAt(ring, [0, 0])], TOUCHING_m).filter((t) => t.normal[2] > FLAT);
  const radii = bearing.map((t) => {
    const [x, y] = [p[3 * t.point] - metresFromMm(ring.x_mm), p[3 * t.point + 1] - metresFromMm(ring.y_mm)];
    return endScale * Math.hypot(x, y);
  });
  const inner = metresFromMm(ring.insideRadius_mm + EDGE_mm / 2);
  const off = radii.filter((r) => r < inner);
  return off.length > radii.length / 2 ? { shrunk_m: Math.max(...off) } : undefined;
};

/** One fault for each ring most of whose load passes over its inner edge by the end of the fire. */
export const shrinksOff = (body: Body, setting: Setting, endScale: number): Fault[] =>
  setting.props.flatMap((prop, i) => {
    if (prop.kind !== 'ring' || prop.shrinks) return [];
    const off = offRing(body, prop, endScale);
    if (!off) return [];
    const across = (l_m: number): string => (2000 * l_m).toFixed(0);
    const widest = 2 * (1000 * off.shrunk_m - EDGE_mm);
    return [
      {
        field: `setting.props[${i}]`,
        value: `a ring with an opening of ${(2 * prop.insideRadius_mm).toFixed(0)} mm; what stands on it shrinks to ${across(off.shrunk_m)} mm across and slips over its inner edge`,
        expected:
          widest >= 10
            ? `an opening of at most ${Math.floor(widest)} mm, or a ring of the same clay, which shrinks along`
            : 'a ring of the same clay, which shrinks along, or a flat shelf',
      },
    ];
  });
