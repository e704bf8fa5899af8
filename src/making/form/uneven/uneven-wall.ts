import { valueAt } from '../../../kernel/numerics/between.ts';
import type { OuterLine } from '../line.ts';
import { smooth } from '../smooth.ts';
import { interpolate, type Reading, type WallPlace } from './callipers.ts';
import type { Uneven } from './uneven-shape.ts';

/** Wall thickness (mm) at a share of the line and an angle, where the drawn section has `drawn_mm`. */
export type UnevenWall = (along: number, angle_rad: number, drawn_mm: number) => number;

const radians = (deg: number): number => (deg * Math.PI) / 180;

/** A share of the line and an angle as a place on the unaltered outside. */
export const wallPlace = (o: OuterLine, along: number, angle_rad: number): WallPlace => ({
  angle_rad,
  length_mm: along * o.length[o.length.length - 1],
  radius_mm: valueAt(o.along, o.radius, along),
});

/**
 * How much of the wall is gone at an angle from the thin side when the inside, a circle of radius `inside_mm`, lies
 * `off_mm` off the axis: exact for two round edges, one inside the other, measured from the outside's centre.
 * Level millimetres; `off·cos` to first order, and the ring between the circles keeps its area exactly.
 */
export const offCentre = (off_mm: number, inside_mm: number, angle_rad: number): number =>
  off_mm * Math.cos(angle_rad) +
  Math.sqrt(Math.max(0, inside_mm ** 2 - (off_mm * Math.sin(angle_rad)) ** 2)) -
  inside_mm;

/** Where on the line the wall differs from the drawn one: not at all at `from`, wholly `over` further on. */
export interface Start {
  readonly from: number;
  readonly over: number;
}

/**
 * The wall of a piece thrown off centre and then read with callipers. The outside stays as drawn; the inside is what
 * differs. Off centre first; what callipers read against that wall is a ratio, whose logarithm goes through every
 * reading (so that no wall between two readings is thicker or thinner than they say).
 * @param start the floor keeps its thickness, and the wall takes a moment to leave it
 * @returns undefined for an even wall
 */
export const unevenWall = (
  uneven: Uneven | undefined,
  o: OuterLine,
  start: Start,
): UnevenWall | undefined => {
  if (!uneven || (uneven.offCentre_mm === 0 && uneven.callipers.length === 0)) return undefined;
  const towards = radians(uneven.towards_deg);
  const begun = (along: number): number =>
    start.over > 0 ? smooth((along - start.from) / start.over) : along >= start.from ? 1 : 0;
  const turned: UnevenWall = (along, angle, drawn_mm) => {
    if (uneven.offCentre_mm === 0) return drawn_mm;
    // A horizontal shift thins a leaning wall by its level part only.
    const level = valueAt(o.along, o.normalRadial, along);
    const inside = Math.max(0, valueAt(o.along, o.radius, along) - drawn_mm * level);
    return drawn_mm - begun(along) * level * offCentre(uneven.offCentre_mm, inside, angle - towards);
  };
  const readings = uneven.callipers.map((c): Reading => {
    const angle = radians(c.angle_deg);
    const before = turned(c.along, angle, valueAt(o.along, o.thickness, c.along));
    return { ...wallPlace(o, c.along, angle), value: Math.log(c.thickness_mm / Math.max(before, 1e-3)) };
  });
  if (readings.length === 0) return turned;
  return (along, angle, drawn_mm) => {
    const here = turned(along, angle, drawn_mm);
    const share = begun(along);
    return share > 0 ? here * Math.exp(share * interpolate(readings, wallPlace(o, along, angle))) : here;
  };
};
