import { h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Form } from '../../../making/form/form.ts';
import type { Session } from '../../session.ts';
import { workOf } from '../../state/page.ts';
import { frameFor, type PaperFrame } from './frame.ts';
import { grid } from './grid.ts';
import { handleMark } from './handle-mark.ts';
import { HandleNumbers } from './handle-numbers.ts';
import { type Handle, handlesOf, nearest } from './handles.ts';
import { dragged, stepped } from './moves.ts';
import { profile } from './profile.ts';

interface Grip {
  readonly pointer: number;
  readonly handle: Handle;
  readonly form: Form;
  readonly frame: PaperFrame;
  readonly x: number;
  readonly y: number;
  readonly gesture: string;
}

let gestures = 0;

const useSize = (box: { readonly current: Element | null }): readonly [number, number] => {
  const [size, setSize] = useState<readonly [number, number]>([0, 0]);
  useEffect(() => {
    const watch = new ResizeObserver(([entry]) => {
      const { width, height } = entry!.contentRect;
      setSize([Math.round(width), Math.round(height)]);
    });
    watch.observe(box.current!);
    return () => watch.disconnect();
  }, []);
  return size;
};

/** The form on squared paper, in millimetres or inches, to be dragged by its line and its wall. */
export const LineDrawing = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  const { form } = workOf(page);
  const { lengths } = page;
  const box = useRef<HTMLDivElement>(null);
  const [width, height] = useSize(box);
  const grip = useRef<Grip | undefined>(undefined);
  const choose = (chosen: number | undefined): void => session.update((p) => ({ ...p, chosen }));

  // The paper holds still under a moving hand.
  const frame = grip.current?.frame ?? frameFor(form, width, height);
  const handles = width > 0 ? handlesOf(form, frame, lengths) : [];
  const chosen = page.chosen === undefined ? undefined : handles[page.chosen];

  const at = (event: PointerEvent): readonly [number, number] => {
    const { left, top } = box.current!.getBoundingClientRect();
    return [event.clientX - left, event.clientY - top];
  };
  const take = (event: PointerEvent): void => {
    if (event.button !== 0 || grip.current) return;
    const [x, y] = at(event);
    const found = nearest(handles, x, y);
    choose(found);
    if (found === undefined) return;
    event.preventDefault();
    (event.currentTarget as Element).setPointerCapture(event.pointerId);
    (box.current!.querySelector(`[data-handle="${found}"]`) as SVGElement | null)?.focus();
    grip.current = {
      pointer: event.pointerId,
      handle: handles[found]!,
      form,
      frame,
      x,
      y,
      gesture: `drag ${++gestures}`,
    };
  };
  const pull = (event: PointerEvent): void => {
    const held = grip.current;
    if (!held || event.pointerId !== held.pointer) return;
    const [x, y] = at(event);
    const { px_per_mm } = held.frame;
    const value = dragged(
      held.form,
      held.handle,
      (x - held.x) / px_per_mm,
      (held.y - y) / px_per_mm,
      lengths,
    );
    session.edit(held.handle.path, value, held.gesture);
  };
  const leave = (event: PointerEvent): void => {
    if (event.pointerId !== grip.current?.pointer) return;
    grip.current = undefined;
    session.release();
  };
  const press = (event: KeyboardEvent): void => {
    const i = Number(
      (event.target as Element).closest('[data-handle]')?.getAttribute('data-handle') ?? Number.NaN,
    );
    const handle = handles[i];
    if (!handle) return;
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault();
      if (session.edit(handle.path, undefined)) choose(undefined);
      return;
    }
    const value = stepped(form, handle, event.key, event.shiftKey, lengths);
    if (value === undefined) return;
    event.preventDefault();
    session.edit(handle.path, value, `keys ${handle.kind} ${handle.index}`);
  };

  return h(
    'div',
    { class: 'drawing', ref: box },
    width > 0 &&
      h(
        'svg',
        {
          width,
          height,
          role: 'group',
          'aria-label': `The form on squared paper in ${lengths === 'mm' ? 'millimetres' : 'inches'}: move its points with the arrow keys, Shift for larger steps`,
          onPointerDown: take,
          onPointerMove: pull,
          onPointerUp: leave,
          onPointerCancel: leave,
          onKeyDown: press,
        },
        grid(frame, lengths),
        profile(form, frame),
        handles.map((handle, i) => handleMark(handle, i, i === page.chosen, choose)),
      ),
    chosen &&
      h(HandleNumbers, {
        key: `${chosen.kind}${chosen.index}`,
        session,
        handle: chosen,
        width,
        height,
        choose,
      }),
  );
};
