import { h } from 'preact';
import { type PaperFrame, xOf, yOf } from './frame.ts';

const range = (from: number, to: number, step: number): number[] =>
  Array.from(
    { length: Math.floor(to / step) - Math.ceil(from / step) + 1 },
    (_, i) => (Math.ceil(from / step) + i) * step,
  );

/** Millimetre paper: the fine lines only where they stay apart on the screen. */
export const grid = (frame: PaperFrame) => {
  const { px_per_mm, left_mm, right_mm, top_mm, width } = frame;
  const path = (step: number): string =>
    [
      ...range(-left_mm, right_mm, step).map((x) => `M${xOf(frame, x).toFixed(1)} 0V${frame.shelf_px}`),
      ...range(0, top_mm, step).map(
        (y) => `M${xOf(frame, -left_mm).toFixed(1)} ${yOf(frame, y).toFixed(1)}H${width}`,
      ),
    ].join('');
  const strong = px_per_mm < 0.7 ? 100 : 50;
  const named = px_per_mm > 2.2 ? 20 : strong;
  return h(
    'g',
    { class: 'paper', 'aria-hidden': true },
    px_per_mm >= 4 && h('path', { class: 'fine', d: path(1) }),
    h('path', { class: 'middle', d: path(10) }),
    h('path', { class: 'strong', d: path(strong) }),
    range(named, top_mm - 8 / px_per_mm, named).map((y) =>
      h('text', { key: `h${y}`, x: xOf(frame, -left_mm) - 6, y: yOf(frame, y) + 4, 'text-anchor': 'end' }, y),
    ),
    range(0, right_mm - 12 / px_per_mm, named).map((x) =>
      h('text', { key: `r${x}`, x: xOf(frame, x), y: frame.shelf_px + 32, 'text-anchor': 'middle' }, x),
    ),
    h('path', { class: 'axis', d: `M${frame.axis_px} 0V${frame.shelf_px + 4}` }),
    h('path', { class: 'shelf', d: `M0 ${frame.shelf_px}H${width}` }),
  );
};
