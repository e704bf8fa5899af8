import { h } from 'preact';
import type { Handle } from './handles.ts';

/** A handle as drawn: a dot on the line, or a stem with a square for the wall, and its number beside it. */
export const handleMark = (handle: Handle, i: number, chosen: boolean, choose: (i: number) => void) => {
  const { x, y, kind, label } = handle;
  const isLine = kind === 'line';
  const number = isLine
    ? h('text', { x: x + 13, y: y + 4.5 + handle.lower_px, 'text-anchor': 'start' }, label)
    : h('text', { x: x - 9, y: y + 4.5, 'text-anchor': 'end' }, label);
  return h(
    'g',
    {
      key: `${kind}${handle.index}`,
      class: `handle ${kind}${chosen ? ' chosen' : ''}`,
      tabIndex: 0,
      role: 'slider',
      'aria-label': isLine ? `Point ${handle.index + 1} of the line` : `Wall ${handle.index + 1}`,
      'aria-valuenow': 0,
      'aria-valuetext': handle.said,
      'data-handle': i,
      'data-kind': kind,
      onFocus: () => choose(i),
    },
    isLine
      ? h('circle', { cx: x, cy: y, r: 7 })
      : [
          h('path', { key: 's', class: 'stem', d: `M${handle.fromX} ${handle.fromY}L${x} ${y}` }),
          h('rect', { key: 'r', x: x - 5, y: y - 5, width: 10, height: 10 }),
        ],
    !chosen && number,
  );
};
