import { h } from 'preact';
import type { Lengths } from '../../words.ts';
import { type PaperFrame, xOf, yOf } from './frame.ts';

const range = (from: number, to: number, step: number): number[] =>
  Array.from(
    { length: Math.floor(to / step) - Math.ceil(from / step) + 1 },
    (_, i) => (Math.ceil(from / step) + i) * step,
  );

interface Ruling {
  /** One unit of the numbers at the edge, mm. */
  readonly unit_mm: number;
  readonly fine_mm: number;
  readonly middle_mm: number;
  readonly strong_mm: number;
  readonly named_mm: number;
}

const rulingFor = (lengths: Lengths, px_per_mm: number): Ruling => {
  if (lengths === 'mm') {
    const strong_mm = px_per_mm < 0.7 ? 100 : 50;
    const named_mm = px_per_mm > 2.2 ? 20 : strong_mm;
    return { unit_mm: 1, fine_mm: 1, middle_mm: 10, strong_mm, named_mm };
  }
  const inch = 25.4;
  const named_mm = px_per_mm > 0.9 ? inch : px_per_mm > 0.5 ? 2 * inch : 4 * inch;
  return { unit_mm: inch, fine_mm: inch / 16, middle_mm: inch / 4, strong_mm: inch, named_mm };
};

/** Squared paper: the fine lines only where they stay apart on the screen. */
export const grid = (frame: PaperFrame, lengths: Lengths) => {
  const { px_per_mm, left_mm, right_mm, top_mm, width } = frame;
  const path = (step: number): string =>
    [
      ...range(-left_mm, right_mm, step).map((x) => `M${xOf(frame, x).toFixed(1)} 0V${frame.shelf_px}`),
      ...range(0, top_mm, step).map(
        (y) => `M${xOf(frame, -left_mm).toFixed(1)} ${yOf(frame, y).toFixed(1)}H${width}`,
      ),
    ].join('');
  const { unit_mm, fine_mm, middle_mm, strong_mm, named_mm: named } = rulingFor(lengths, px_per_mm);
  return h(
    'g',
    { class: 'paper', 'aria-hidden': true },
    px_per_mm * fine_mm >= 4 && h('path', { class: 'fine', d: path(fine_mm) }),
    h('path', { class: 'middle', d: path(middle_mm) }),
    h('path', { class: 'strong', d: path(strong_mm) }),
    range(named, top_mm - 8 / px_per_mm, named).map((y) =>
      h(
        'text',
        { key: `h${y}`, x: xOf(frame, -left_mm) - 6, y: yOf(frame, y) + 4, 'text-anchor': 'end' },
        Math.round(y / unit_mm),
      ),
    ),
    range(0, right_mm - 12 / px_per_mm, named).map((x) =>
      h(
        'text',
        { key: `r${x}`, x: xOf(frame, x), y: frame.shelf_px + 32, 'text-anchor': 'middle' },
        Math.round(x / unit_mm),
      ),
    ),
    h('path', { class: 'axis', d: `M${frame.axis_px} 0V${frame.shelf_px + 4}` }),
    h('path', { class: 'shelf', d: `M0 ${frame.shelf_px}H${width}` }),
  );
};
