import type { Form } from '../../../making/form/form.ts';
import { outerLine } from '../../../making/form/line.ts';
import type { Path } from '../../state/at.ts';
import { type Lengths, lengthText } from '../../words.ts';
import { type PaperFrame, xOf, yOf } from './frame.ts';
import { innerAt } from './profile.ts';

/** What can be taken hold of: a point of the line, or the thickness of the wall at a place. */
export interface Handle {
  readonly kind: 'line' | 'wall';
  readonly index: number;
  readonly path: Path;
  /** Where it is drawn and caught, px. */
  readonly x: number;
  readonly y: number;
  /** Where its stem begins (a wall handle stands off from the wall), px. */
  readonly fromX: number;
  readonly fromY: number;
  /** Unit vector on the screen along which a wall handle is pulled to thicken the wall. */
  readonly pullX: number;
  readonly pullY: number;
  readonly label: string;
  /** Pushes a number down, clear of its neighbour's, px. */
  readonly lower_px: number;
  readonly said: string;
}

/** A wall handle stands this far inside the wall, so that finger and line do not get in each other's way. */
const STAND_OFF_px = 20;

const lineHandles = (form: Form, frame: PaperFrame, lengths: Lengths): Handle[] =>
  form.line.map(({ radius_mm, height_mm }, index) => {
    const x = xOf(frame, radius_mm);
    const y = yOf(frame, height_mm);
    const [r, z] = [lengthText(radius_mm, lengths), lengthText(height_mm, lengths)];
    const said = `radius ${r} ${lengths}, height ${z} ${lengths}`;
    const label = `${r} · ${z}`;
    return {
      kind: 'line',
      index,
      path: ['form', 'line', index],
      x,
      y,
      fromX: x,
      fromY: y,
      pullX: 0,
      pullY: 0,
      label,
      lower_px: 0,
      said,
    };
  });

const wallHandles = (form: Form, frame: PaperFrame, lengths: Lengths): Handle[] => {
  const line = outerLine(form);
  return form.wall.map(({ along, thickness_mm }, index) => {
    const found = line.along.findIndex((a) => a >= along);
    const i = found < 0 ? line.along.length - 1 : found;
    const [r, z] = innerAt(line, i);
    const [fromX, fromY] = [xOf(frame, r), yOf(frame, z)];
    // Inwards on the screen, where up is down.
    const [pullX, pullY] = [-line.normalRadial[i]!, line.normalUp[i]!];
    return {
      kind: 'wall',
      index,
      path: ['form', 'wall', index],
      x: fromX + STAND_OFF_px * pullX,
      y: fromY + STAND_OFF_px * pullY,
      fromX,
      fromY,
      pullX,
      pullY,
      lower_px: 0,
      label: lengthText(thickness_mm, lengths, 2),
      said: `wall ${lengthText(thickness_mm, lengths, 2)} ${lengths}, ${Math.round(100 * along)} % of the way up the line`,
    };
  });
};

const NUMBER_HEIGHT_px = 15;

/** Points close to one another in height would write over each other's numbers: the lower one's gives way. */
const apart = (handles: readonly Handle[]): Handle[] =>
  handles.map((handle, i) => {
    const above = handles[i + 1];
    const gap = above ? handle.y - above.y : Number.POSITIVE_INFINITY;
    return gap >= 0 && gap < NUMBER_HEIGHT_px ? { ...handle, lower_px: NUMBER_HEIGHT_px - gap } : handle;
  });

/** All handles, those of the line first. */
export const handlesOf = (form: Form, frame: PaperFrame, lengths: Lengths): readonly Handle[] => [
  ...apart(lineHandles(form, frame, lengths)),
  ...wallHandles(form, frame, lengths),
];

/** A finger covers about 44 px: whatever handle is nearest within that is meant. */
const CATCH_px = 30;

export const nearest = (handles: readonly Handle[], x: number, y: number): number | undefined => {
  let best: number | undefined;
  let least = CATCH_px;
  handles.forEach((handle, i) => {
    const away = Math.hypot(handle.x - x, handle.y - y);
    if (away < least) {
      least = away;
      best = i;
    }
  });
  return best;
};
