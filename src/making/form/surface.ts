import { type Mover, type Place, type Point, pushOut } from './alterations/alteration.ts';
import { type Alteration, alterOf } from './alterations/table.ts';
import type { Section } from './section.ts';
import { smooth } from './smooth.ts';

/** The altered mid-surface as a function of where on the line (mm of the section) and the angle. */
export interface Surface {
  readonly section: Section;
  readonly total: number;
  /** Writes x, y, z in mm at `out[to..to+2]`. */
  readonly at: (length: number, angle_rad: number, out: Float64Array, to: number) => void;
  /** Wall thickness, mm. */
  readonly thickness: (length: number, angle_rad: number) => number;
  /** Whether every ring is level with itself: thickness does not depend on the angle. */
  readonly uncutLip: boolean;
  /** The unaltered radius, mm. */
  readonly radius: (length: number) => number;
}

/** A table look-up with linear steps: index below and share, by bisection. */
const find = (table: Float64Array, value: number): number => {
  let [lo, hi] = [0, table.length - 1];
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if (table[mid] <= value) lo = mid;
    else hi = mid;
  }
  return lo;
};

const MORE_THAN_CUT = 3;

/** Cutting moves the rows near the lip down so that the last follows the cut, without folding any over another. */
const cutting = (section: Section, alterations: readonly Alteration[], total: number) => {
  const trims = alterations.flatMap((a) => alterOf(a).trim?.(a) ?? []);
  if (trims.length === 0) return (length: number) => length;
  const cut = (angle: number): number => trims.reduce((sum, trim) => sum + trim(angle), 0);
  let deepest = 0;
  for (let i = 0; i < 360; i++) deepest = Math.max(deepest, cut((i * Math.PI) / 180));
  const reach = Math.min(total - section.wallFrom, Math.max(1e-9, MORE_THAN_CUT * deepest));
  return (length: number, angle: number): number => {
    const share = smooth(1 - (total - length) / reach);
    return share > 0 ? length - share * cut(angle) : length;
  };
};

/** The surface of a section with its alterations, in their order. */
export const alteredSurface = (section: Section, alterations: readonly Alteration[]): Surface => {
  const { length: s, radius, height, thickness, along, outRadial, outUp, outer, uneven } = section;
  const total = s[s.length - 1];
  const lineLength_mm = outer.length[outer.length.length - 1];
  const movers: Mover[] = alterations.flatMap((a) => alterOf(a).move?.(a) ?? []);
  const uncut = cutting(section, alterations, total);
  const at = (length: number, angle_rad: number, out: Float64Array, to: number): void => {
    const here = uncut(length, angle_rad);
    const i = find(s, here);
    const f = Math.min(1, Math.max(0, (here - s[i]) / (s[i + 1] - s[i])));
    const mix = (x: Float64Array): number => x[i] + f * (x[i + 1] - x[i]);
    const r = mix(radius);
    let point: Point = [r * Math.cos(angle_rad), r * Math.sin(angle_rad), mix(height)];
    if (movers.length > 0 || uneven) {
      const place: Place = {
        angle_rad,
        along: mix(along),
        lineLength_mm,
        radius_mm: r,
        out: [mix(outRadial), mix(outUp)],
      };
      if (uneven) {
        // What the wall lacks it lacks inside: its middle moves half of that way out.
        const drawn = mix(thickness);
        point = pushOut(place, point, 0.5 * (drawn - uneven(place.along, angle_rad, drawn)));
      }
      for (const move of movers) point = move(place, point);
    }
    out[to] = point[0];
    out[to + 1] = point[1];
    out[to + 2] = point[2];
  };
  const mixAt = (values: Float64Array, here: number): number => {
    const i = find(s, here);
    const f = Math.min(1, Math.max(0, (here - s[i]) / (s[i + 1] - s[i])));
    return values[i] + f * (values[i + 1] - values[i]);
  };
  const wallAt = (here: number, angle_rad: number): number => {
    const drawn = mixAt(thickness, here);
    return uneven ? uneven(mixAt(along, here), angle_rad, drawn) : drawn;
  };
  return {
    section,
    total,
    at,
    thickness: (length, angle) => wallAt(uncut(length, angle), angle),
    uncutLip: !uneven && !alterations.some((a) => alterOf(a).trim),
    radius: (length) => mixAt(radius, length),
  };
};
