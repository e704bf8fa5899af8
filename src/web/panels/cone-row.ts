import { h } from 'preact';
import type { ConeSeen, HeatWork } from '../../making/kiln/heat-work.ts';

/** Three cones as they would stand on the shelf: the last one down, the one that bends, the next. */
const threeOf = ({ cones, reached }: HeatWork): readonly ConeSeen[] => {
  const whole = cones.filter(({ cone }) => !cone.includes('.'));
  const down = whole.findIndex(({ cone }) => cone === reached);
  const from = Math.min(Math.max(down, 0), whole.length - 3);
  return whole.slice(from, from + 3);
};

/** One cone, its tip going over and down as it takes up heat. */
const coneShape = (bend: number): string => {
  // The spine bends as a quarter ellipse: the foot stays put, the tip ends level with the foot.
  const angle = (bend * Math.PI) / 2;
  const tip = [9 + 15 * Math.sin(angle), 26 - 22 * Math.cos(angle) ** 1.2 * (1 - 0.05 * bend)];
  const knee = [9 + 3 * bend, 26 - 15 + 1 * bend];
  return `M5 26 Q ${knee[0]! - 3} ${knee[1]! - 3 * bend} ${tip[0]!.toFixed(1)} ${tip[1]!.toFixed(1)} Q ${knee[0]! + 2} ${knee[1]! + 4 * bend} 13 26 Z`;
};

export const coneRow = (heat: HeatWork) =>
  h(
    'span',
    { class: 'cones', 'aria-hidden': true },
    threeOf(heat).map(({ cone, bend }) =>
      h(
        'span',
        { key: cone },
        h('svg', { viewBox: '0 0 26 28', width: 26, height: 28 }, h('path', { d: coneShape(bend) })),
        cone,
      ),
    ),
  );
