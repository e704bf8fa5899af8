import { h } from 'preact';
import type { Interval } from '../../../making/learning/predict.ts';

const WIDTH = 100;
/** The interval takes the middle of the bar; what lies further out is shown at its end. */
const ROOM = 0.28;

/** The expected interval with the measured value on it. */
export const intervalBar = ({ low_mm, middle_mm, high_mm }: Interval, value_mm: number | undefined) => {
  const span = Math.max(1e-6, high_mm - low_mm);
  const x = (v: number): number => WIDTH * (ROOM + (1 - 2 * ROOM) * ((v - low_mm) / span));
  const inside = value_mm !== undefined && value_mm >= low_mm && value_mm <= high_mm;
  const at = value_mm === undefined ? 0 : Math.min(WIDTH - 4, Math.max(4, x(value_mm)));
  return h(
    'svg',
    { class: 'interval-bar', viewBox: `0 0 ${WIDTH} 16`, preserveAspectRatio: 'none', 'aria-hidden': true },
    h('path', { class: 'all', d: `M0 8H${WIDTH}` }),
    h('path', { class: 'likely', d: `M${x(low_mm)} 8H${x(high_mm)}` }),
    h('path', { class: 'middle', d: `M${x(middle_mm)} 2V14` }),
    value_mm !== undefined &&
      h('path', { class: inside ? 'measured' : 'measured outside', d: `M${at} 8h0.01` }),
  );
};
