import { h } from 'preact';
import type { Compared } from '../../../making/learning/how-right.ts';
import { type Lengths, lengthReading, plain } from '../../words.ts';
import { ticksOf } from './axis.ts';
import { mark } from './marks.ts';

const SIZE = 560;
const LEFT = 58;
const FOOT = 50;
const TOP = 12;
const RIGHT = 12;
/** The nearest dot within this is meant by a tap, in the picture's units. */
const NEAR = 40;

export type About = Compared['about'];

interface Props {
  readonly rows: readonly Compared[];
  readonly about: About;
  readonly lengths: Lengths;
  readonly chosen: Compared | undefined;
  readonly choose: (row: Compared) => void;
}

interface Frame {
  readonly X: (v: number) => number;
  readonly Y: (v: number) => number;
  readonly across: readonly [number, number];
  readonly up: readonly [number, number];
  /** What is shown over the predicted value: the measure, or how far it is off the prediction. */
  readonly upOf: (row: Compared) => number;
  readonly low: (row: Compared) => number;
  readonly high: (row: Compared) => number;
}

const padded = (values: readonly number[], share: number): [number, number] => {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = share * (high - low || 1);
  return [low - room, high + room];
};

/**
 * Movement on the diagonal itself. Sizes lie so near to it that bars would be thinner than the line: there the diagonal
 * is laid flat, and measured less predicted is shown.
 */
const frameOf = (rows: readonly Compared[], about: About, per: number): Frame => {
  const flat = about === 'size';
  const v = (mm: number): number => mm / per;
  const upOf = (r: Compared): number => v(flat ? r.measured_mm - r.middle_mm : r.measured_mm);
  const low = (r: Compared): number => v(flat ? r.low_mm - r.middle_mm : r.low_mm);
  const high = (r: Compared): number => v(flat ? r.high_mm - r.middle_mm : r.high_mm);
  const middles = rows.map((r) => v(r.middle_mm));
  const ends = rows.flatMap((r) => [low(r), high(r), upOf(r)]);
  const up = flat ? padded([...ends, 0], 0.05) : padded([...ends, ...middles, 0], 0.05);
  const across = flat ? padded([...middles, 0], 0.05) : up;
  return {
    across,
    up,
    upOf,
    low,
    high,
    X: (x) => LEFT + ((x - across[0]) / (across[1] - across[0])) * (SIZE - LEFT - RIGHT),
    Y: (y) => SIZE - FOOT - ((y - up[0]) / (up[1] - up[0])) * (SIZE - FOOT - TOP),
  };
};

const axes = ({ X, Y, across, up }: Frame, about: About, unit: string) => {
  const ground = SIZE - FOOT;
  const places = (step: number): number => Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const ticks = (range: readonly [number, number]): [number, string][] => {
    const list = ticksOf(range[0], range[1], 6);
    return list.map((t) => [t, plain(t, places(list[1] - list[0]))]);
  };
  const flat = about === 'size';
  return h(
    'g',
    { class: 'axes' },
    ticks(across).map(([t, text]) =>
      h('text', { key: `x${t}`, x: X(t), y: ground + 19, 'text-anchor': 'middle' }, text),
    ),
    ticks(up).map(([t, text]) => [
      h('path', { key: `g${t}`, class: 'grid', d: `M${LEFT} ${Y(t)}H${SIZE - RIGHT}` }),
      h('text', { key: `y${t}`, x: LEFT - 8, y: Y(t) + 5, 'text-anchor': 'end' }, text),
    ]),
    h('path', { class: 'frame', d: `M${LEFT} ${TOP}V${ground}H${SIZE - RIGHT}` }),
    flat
      ? h('path', { class: 'right-line', d: `M${LEFT} ${Y(0)}H${SIZE - RIGHT}` })
      : h('path', {
          class: 'right-line',
          d: `M${X(across[0])} ${Y(across[0])}L${X(across[1])} ${Y(across[1])}`,
        }),
    h(
      'text',
      { class: 'title', x: (LEFT + SIZE) / 2, y: SIZE - 8, 'text-anchor': 'middle' },
      `predicted, ${unit}`,
    ),
    h(
      'text',
      {
        class: 'title',
        transform: `translate(15 ${(TOP + ground) / 2}) rotate(-90)`,
        'text-anchor': 'middle',
      },
      `${flat ? 'measured less predicted' : 'measured'}, ${unit}`,
    ),
  );
};

/** Predicted against measured: a dot for each measure, its bar where four in five were expected. */
export const Diagonal = ({ rows, about, lengths, chosen, choose }: Props) => {
  const mine = rows.filter((r) => r.about === about);
  if (mine.length === 0) return h('p', { class: 'hint' }, 'Nothing of this kind was measured yet.');
  const { unit } = lengthReading(lengths);
  const frame = frameOf(mine, about, lengths === 'mm' ? 1 : 25.4);
  const { X, Y, upOf, low, high } = frame;
  const at = (r: Compared): readonly [number, number] => [
    X(r.middle_mm / (lengths === 'mm' ? 1 : 25.4)),
    Y(upOf(r)),
  ];
  const tap = (event: MouseEvent): void => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    const [x, y] = [
      ((event.clientX - box.left) / box.width) * SIZE,
      ((event.clientY - box.top) / box.height) * SIZE,
    ];
    const far = (r: Compared): number => Math.hypot(at(r)[0] - x, at(r)[1] - y);
    const nearest = mine.reduce((best, r) => (far(r) < far(best) ? r : best));
    if (far(nearest) < NEAR) choose(nearest);
  };
  const hits = mine.filter((r) => r.inside).length;
  return h(
    'svg',
    {
      class: 'diagonal',
      viewBox: `0 0 ${SIZE} ${SIZE}`,
      role: 'img',
      'aria-label': `Predicted against measured, ${mine.length} measures, ${hits} of them inside the interval they were expected in. The list below has them all.`,
      onClick: tap,
    },
    axes(frame, about, unit),
    mine.map((r) => {
      const [x] = at(r);
      return h('path', {
        key: `${r.entry}/${r.piece}/${r.key}/bar`,
        class: r.inside ? 'bar' : 'bar outside',
        d: `M${x} ${Y(low(r))}V${Y(high(r))}`,
      });
    }),
    mine.map((r) => {
      const [x, y] = at(r);
      const cls = `${r.inside ? 'inside' : 'outside'}${r === chosen ? ' chosen' : ''}`;
      return h(
        'g',
        { key: `${r.entry}/${r.piece}/${r.key}` },
        mark(r.attitude, x, y, cls, r === chosen ? 1.6 : 1),
      );
    }),
  );
};
