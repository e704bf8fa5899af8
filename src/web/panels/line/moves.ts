import type { Form } from '../../../making/form/form.ts';
import type { Lengths } from '../../words.ts';
import type { Handle } from './handles.ts';

/** What a drag snaps to and an arrow key adds, mm: half a millimetre, or 0.02 in; for a wall a tenth, or 0.005 in. */
const GRAINS = { mm: { line: 0.5, wall: 0.1 }, in: { line: 0.508, wall: 0.127 } } as const;

/** Without the last digits that only come of reckoning in binary. */
const exact = (mm: number): number => Number(mm.toFixed(6));
const snap = (mm: number, grain_mm: number): number => exact(Math.round(mm / grain_mm) * grain_mm);
const toHalf = (mm: number): number => snap(mm, 0.5);
const toTenth = (mm: number): number => snap(mm, 0.1);

/** A pull of a millimetre on the screen thickens a wall by this much: walls want a finer hand than lines. */
const WALL_GEAR = 0.15;

/**
 * The value a handle has after being moved by so many mm to the right and up from where it was taken.
 * The foot edge stays on the shelf when it stands on it.
 */
export const dragged = (
  form: Form,
  handle: Handle,
  right_mm: number,
  up_mm: number,
  lengths: Lengths,
): unknown => {
  const grain = GRAINS[lengths];
  if (handle.kind === 'line') {
    const point = form.line[handle.index]!;
    const onShelf = handle.index === 0 && point.height_mm === 0;
    return {
      radius_mm: snap(Math.max(grain.line, point.radius_mm + right_mm), grain.line),
      height_mm: onShelf ? 0 : snap(Math.max(0, point.height_mm + up_mm), grain.line),
    };
  }
  const point = form.wall[handle.index]!;
  const pulled = right_mm * handle.pullX - up_mm * handle.pullY;
  return {
    ...point,
    thickness_mm: snap(Math.max(3 * grain.wall, point.thickness_mm + WALL_GEAR * pulled), grain.wall),
  };
};

/** An arrow key: one grain, with Shift ten. */
export const stepped = (form: Form, handle: Handle, key: string, far: boolean, lengths: Lengths): unknown => {
  const right = key === 'ArrowRight' ? 1 : key === 'ArrowLeft' ? -1 : 0;
  const up = key === 'ArrowUp' ? 1 : key === 'ArrowDown' ? -1 : 0;
  if (right === 0 && up === 0) return undefined;
  const by = GRAINS[lengths][handle.kind] * (far ? 10 : 1);
  if (handle.kind === 'line') {
    const { radius_mm, height_mm } = form.line[handle.index]!;
    return { radius_mm: exact(radius_mm + by * right), height_mm: exact(height_mm + by * up) };
  }
  const point = form.wall[handle.index]!;
  return { ...point, thickness_mm: exact(point.thickness_mm + (right + up) * by) };
};

const between = (a: number, b: number): number => toHalf((a + b) / 2);

/** The form with one more handle, half way from the chosen one to the next (or to the one before, at the end). */
export const withOneMore = (form: Form, handle: Handle): Form => {
  const i = handle.index;
  if (handle.kind === 'line') {
    const j = Math.min(i, form.line.length - 2);
    const [a, b] = [form.line[j]!, form.line[j + 1]!];
    const more = {
      radius_mm: between(a.radius_mm, b.radius_mm),
      height_mm: between(a.height_mm, b.height_mm),
    };
    return { ...form, line: form.line.toSpliced(j + 1, 0, more) };
  }
  const here = form.wall[i]!;
  const next = form.wall[i + 1];
  const before = form.wall[i - 1];
  const [a, b, at] = next
    ? [here, next, i + 1]
    : before
      ? [before, here, i]
      : [{ ...here, along: 0 }, { ...here, along: 1 }, here.along > 0.5 ? i : i + 1];
  const more = {
    along: Math.round(50 * (a.along + b.along)) / 100,
    thickness_mm: toTenth((a.thickness_mm + b.thickness_mm) / 2),
  };
  return { ...form, wall: form.wall.toSpliced(at, 0, more) };
};
