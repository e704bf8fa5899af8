import { h } from 'preact';
import type { Setting } from '../../../making/firing/setting.ts';
import type { Form } from '../../../making/form/form.ts';
import { outerLine } from '../../../making/form/line.ts';

type Corner = readonly [x: number, y: number];

const BOX = 100;
const SHELF_y = 92;
const ROOM = 84;

/** The form as drawn, once round from the axis' point of view: x across, y up, mm. */
const outlineOf = (form: Form): Corner[] => {
  const { radius, height } = outerLine(form);
  const right = Array.from(radius, (r, i): Corner => [r, height[i]]);
  return [...right, ...right.toReversed().map(([x, y]): Corner => [-x, y])];
};

const TURN_deg: Readonly<Record<Setting['attitude'], number>> = {
  upright: 0,
  'rim down': 180,
  'on its side': 90,
  leaning: 0,
};

const turned = (corners: readonly Corner[], degrees: number): Corner[] => {
  const [c, s] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  return corners.map(([x, y]) => [c * x - s * y, s * x + c * y]);
};

/** A form on the shelf as it stands, small. */
export const silhouette = (form: Form, { attitude, lean_deg }: Pick<Setting, 'attitude' | 'lean_deg'>) => {
  const stood = turned(outlineOf(form), attitude === 'leaning' ? -lean_deg : TURN_deg[attitude]);
  const xs = stood.map(([x]) => x);
  const ys = stood.map(([, y]) => y);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  const scale = Math.min((BOX - 12) / (right - left), ROOM / (high - low));
  const at = ([x, y]: Corner): string =>
    `${(BOX / 2 + scale * (x - (left + right) / 2)).toFixed(1)} ${(SHELF_y - scale * (y - low)).toFixed(1)}`;
  return h(
    'svg',
    { class: 'silhouette', viewBox: `0 0 ${BOX} ${BOX}`, 'aria-hidden': true },
    h('path', { class: 'body', d: `M${stood.map(at).join('L')}Z` }),
    h('path', { class: 'shelf', d: `M4 ${SHELF_y}H96` }),
  );
};
