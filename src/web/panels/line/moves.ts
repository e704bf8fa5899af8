import type { Form } from '../../../making/form/form.ts';
import type { Handle } from './handles.ts';

const toHalf = (mm: number): number => Math.round(mm * 2) / 2;
const toTenth = (mm: number): number => Math.round(mm * 10) / 10;

/** A pull of a millimetre on the screen thickens a wall by this much: walls want a finer hand than lines. */
const WALL_GEAR = 0.15;

/**
 * The value a handle has after being moved by so many mm to the right and up from where it was taken.
 * The foot edge stays on the shelf when it stands on it.
 */
export const dragged = (form: Form, handle: Handle, right_mm: number, up_mm: number): unknown => {
  if (handle.kind === 'line') {
    const point = form.line[handle.index]!;
    const onShelf = handle.index === 0 && point.height_mm === 0;
    return {
      radius_mm: toHalf(Math.max(0.5, point.radius_mm + right_mm)),
      height_mm: onShelf ? 0 : toHalf(Math.max(0, point.height_mm + up_mm)),
    };
  }
  const point = form.wall[handle.index]!;
  const pulled = right_mm * handle.pullX - up_mm * handle.pullY;
  return { ...point, thickness_mm: toTenth(Math.max(0.3, point.thickness_mm + WALL_GEAR * pulled)) };
};

/** An arrow key: half a millimetre, with Shift five; for a wall a tenth, with Shift one. */
export const stepped = (form: Form, handle: Handle, key: string, far: boolean): unknown => {
  const right = key === 'ArrowRight' ? 1 : key === 'ArrowLeft' ? -1 : 0;
  const up = key === 'ArrowUp' ? 1 : key === 'ArrowDown' ? -1 : 0;
  if (right === 0 && up === 0) return undefined;
  const by = far ? 5 : 0.5;
  if (handle.kind === 'line') {
    const { radius_mm, height_mm } = form.line[handle.index]!;
    return { radius_mm: radius_mm + by * right, height_mm: height_mm + by * up };
  }
  const point = form.wall[handle.index]!;
  return { ...point, thickness_mm: toTenth(point.thickness_mm + (right + up) * (far ? 1 : 0.1)) };
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
