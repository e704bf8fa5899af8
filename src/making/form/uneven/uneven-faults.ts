import { type Fault, shownValue } from '../../../error.ts';
import { valueAt } from '../../../kernel/numerics/between.ts';
import type { OuterLine } from '../line.ts';
import { contradicted } from './callipers.ts';
import { THINNEST_mm, type Uneven } from './uneven-shape.ts';
import { type Start, unevenWall, wallPlace } from './uneven-wall.ts';

/** What an uneven wall says that no clay can do: readings off the wall or against one another, no wall left. */

/** So much must stay free round the axis. */
const LEFT_INSIDE_mm = 0.5;
const ROWS = 40;
const ROUND = 96;

const fault = (field: string, value: unknown, expected: string): Fault => ({
  field: `form.uneven.${field}`,
  value: shownValue(value),
  expected,
});

const hundredths = (x: number): number => Math.round(100 * x) / 100;

const readingFaults = (uneven: Uneven, o: OuterLine, start: Start): Fault[] => {
  const least = start.from + start.over;
  const placed = uneven.callipers.map((c) => ({
    ...c,
    place: wallPlace(o, c.along, (c.angle_deg * Math.PI) / 180),
  }));
  return uneven.callipers.flatMap((c, i) => {
    if (c.along < least - 1e-9)
      return [
        fault(
          `callipers[${i}].along`,
          c.along,
          `at least ${Math.ceil(1000 * least) / 1000}: below that is the floor, not the wall`,
        ),
      ];
    const other = contradicted(placed, i);
    if (other < 0) return [];
    return [
      fault(
        `callipers[${i}].thickness_mm`,
        c.thickness_mm,
        `${uneven.callipers[other].thickness_mm} as callipers[${other}] says at the same place, or another place`,
      ),
    ];
  });
};

interface Extremes {
  thinnest: number;
  readonly thinAt: { along: number; angle_deg: number };
  /** Least room between the inside and the axis, mm. */
  room: number;
  readonly roomAt: { along: number; angle_deg: number };
}

const extremes = (uneven: Uneven, o: OuterLine, start: Start): Extremes | undefined => {
  const wall = unevenWall(uneven, o, start);
  if (!wall) return undefined;
  const out: Extremes = {
    thinnest: Number.POSITIVE_INFINITY,
    thinAt: { along: 0, angle_deg: 0 },
    room: Number.POSITIVE_INFINITY,
    roomAt: { along: 0, angle_deg: 0 },
  };
  for (let i = 0; i <= ROWS; i++) {
    const along = start.from + ((1 - start.from) * i) / ROWS;
    const drawn = valueAt(o.along, o.thickness, along);
    const radius = valueAt(o.along, o.radius, along);
    const level = Math.max(0, valueAt(o.along, o.normalRadial, along));
    for (let k = 0; k < ROUND; k++) {
      const angle_deg = uneven.towards_deg + (360 * k) / ROUND;
      const t = wall(along, (angle_deg * Math.PI) / 180, drawn);
      if (t < out.thinnest) {
        out.thinnest = t;
        Object.assign(out.thinAt, { along, angle_deg });
      }
      if (radius - t * level < out.room) {
        out.room = radius - t * level;
        Object.assign(out.roomAt, { along, angle_deg });
      }
    }
  }
  return out;
};

/** The most the inside may lie off centre before the drawn wall alone is too thin or in the axis, mm. */
const mostOff = (o: OuterLine, start: Start): number => {
  let most = Number.POSITIVE_INFINITY;
  for (let i = 0; i < o.along.length; i++) {
    if (o.along[i] < start.from) continue;
    const level = Math.abs(o.normalRadial[i]);
    if (level < 1e-6) continue;
    const inside = o.radius[i] - o.thickness[i] * o.normalRadial[i] - LEFT_INSIDE_mm;
    most = Math.min(most, (o.thickness[i] - THINNEST_mm) / level, inside / level);
  }
  return Math.max(0, Math.floor(100 * most) / 100);
};

/** The reading furthest from the drawn wall, thinner (-1) or thicker (1). */
const furthest = (uneven: Uneven, o: OuterLine, sign: number): number => {
  const off = uneven.callipers.map((c) => Math.log(c.thickness_mm / valueAt(o.along, o.thickness, c.along)));
  return off.reduce((best, x, i) => (sign * x > sign * off[best] ? i : best), 0);
};

const spoken = (at: { along: number; angle_deg: number }): string =>
  `along ${hundredths(at.along)}, ${Math.round(((at.angle_deg % 360) + 360) % 360)}°`;

/** Faults of an uneven wall on this outer line; every one names its field. */
export const unevenFaults = (uneven: Uneven | undefined, o: OuterLine, start: Start): Fault[] => {
  if (!uneven) return [];
  const faults = readingFaults(uneven, o, start);
  const most = mostOff(o, start);
  if (uneven.offCentre_mm > most)
    faults.push(
      fault('offCentre_mm', uneven.offCentre_mm, `at most ${most} mm: more leaves no wall on the thin side`),
    );
  if (faults.length > 0) return faults;
  const found = extremes(uneven, o, start);
  if (!found || uneven.callipers.length === 0) return faults;
  if (found.thinnest < THINNEST_mm) {
    const i = furthest(uneven, o, -1);
    faults.push(
      fault(
        `callipers[${i}].thickness_mm`,
        uneven.callipers[i].thickness_mm,
        `more, or more readings: as they stand the wall would be ${hundredths(found.thinnest)} mm at ${spoken(found.thinAt)}`,
      ),
    );
  }
  if (found.room < LEFT_INSIDE_mm) {
    const i = furthest(uneven, o, 1);
    faults.push(
      fault(
        `callipers[${i}].thickness_mm`,
        uneven.callipers[i].thickness_mm,
        `less, or more readings: as they stand nothing stays hollow at ${spoken(found.roomAt)}`,
      ),
    );
  }
  return faults;
};
