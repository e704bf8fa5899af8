import { h } from 'preact';
import type { SagReading } from '../../../making/clay/test-pieces/read-bar.ts';
import { type Softness, viscosityAt } from '../../../making/clay/test-pieces/softness-grid.ts';
import { fahrenheitFromCelsius } from '../../../units.ts';
import { type Degrees, plain } from '../../words.ts';
import type { TestPiecesTold } from '../../worker/test-pieces-jobs.ts';

const WIDE = 560;
const HIGH = 330;
const LEFT = 62;
const RIGHT = 24;
const TOP = 20;
const BOTTOM = 40;
const POINTS = 40;
/** Room beside the hottest and the coolest bar, K. */
const BESIDE_K = 25;
const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';

interface Axes {
  readonly x: (at_C: number) => number;
  readonly y: (value_Pa_s: number) => number;
  readonly from_C: number;
  readonly to_C: number;
  readonly low: number;
  readonly high: number;
}

const axesFor = (readings: readonly SagReading[], told: TestPiecesTold, after: Softness): Axes => {
  const temperatures = readings.map((r) => r.at_C);
  const from_C = Math.min(...temperatures) - BESIDE_K;
  const to_C = Math.max(...temperatures) + BESIDE_K;
  const reference = told.from.sagViscosity;
  const ends = [from_C, to_C].flatMap((at) =>
    [told.before, after].flatMap((belief) => {
      const v = viscosityAt(belief, reference, at);
      return [v.low_Pa_s, v.high_Pa_s];
    }),
  );
  const all = [...ends, ...readings.flatMap((r) => [r.low_Pa_s, r.high_Pa_s])].filter((v) => v > 0);
  const low = Math.log10(Math.min(...all)) - 0.05;
  const high = Math.log10(Math.max(...all)) + 0.05;
  return {
    x: (at_C) => LEFT + ((WIDE - LEFT - RIGHT) * (at_C - from_C)) / (to_C - from_C),
    y: (value) => TOP + ((HIGH - TOP - BOTTOM) * (high - Math.log10(value))) / (high - low),
    from_C,
    to_C,
    low,
    high,
  };
};

const curve = (belief: Softness, told: TestPiecesTold, { x, y, from_C, to_C }: Axes) => {
  const at = Array.from({ length: POINTS }, (_, i) => from_C + ((to_C - from_C) * i) / (POINTS - 1));
  const values = at.map((t) => viscosityAt(belief, told.from.sagViscosity, t));
  const line = (of: (v: (typeof values)[number]) => number): string[] =>
    values.map((v) => `${x(v.at_C).toFixed(1)} ${y(of(v)).toFixed(1)}`);
  return {
    middle: `M${line((v) => v.value_Pa_s).join('L')}`,
    band: `M${line((v) => v.high_Pa_s).join('L')}L${line((v) => v.low_Pa_s)
      .reverse()
      .join('L')}Z`,
  };
};

/** Every whole power of ten, and twice and five times it where there is room. */
const ticks = ({ low, high }: Axes): { value: number; said: string }[] => {
  const list: { value: number; said: string }[] = [];
  const few = high - low < 2.2;
  for (let ten = Math.floor(low); ten <= high; ten++)
    for (const k of few ? [1, 2, 5] : [1]) {
      const log = ten + Math.log10(k);
      const power = [...String(ten)].map((d) => SUPERSCRIPT[Number(d)]).join('');
      if (log >= low && log <= high)
        list.push({ value: k * 10 ** ten, said: k === 1 ? `10${power}` : `${k}·10${power}` });
    }
  return list;
};

const heats = ({ from_C, to_C }: Axes, degrees: Degrees): { at_C: number; said: string }[] => {
  const shown = (c: number): number => (degrees === 'C' ? c : fahrenheitFromCelsius(c));
  const step = degrees === 'C' ? 20 : 50;
  const list: { at_C: number; said: string }[] = [];
  for (let t = Math.ceil(shown(from_C) / step) * step; t <= shown(to_C); t += step)
    list.push({ at_C: degrees === 'C' ? t : (t - 32) / 1.8, said: plain(t) });
  return list;
};

const paper = (axes: Axes, degrees: Degrees) => [
  ticks(axes).map(({ value, said }) =>
    h(
      'g',
      { key: said, class: 'tick' },
      h('path', { d: `M${LEFT} ${axes.y(value)}H${WIDE - RIGHT}` }),
      h('text', { x: LEFT - 6, y: axes.y(value) + 4.5, 'text-anchor': 'end' }, said),
    ),
  ),
  heats(axes, degrees).map(({ at_C, said }) =>
    h(
      'g',
      { key: said, class: 'tick' },
      h('path', { d: `M${axes.x(at_C)} ${TOP}V${HIGH - BOTTOM}` }),
      h('text', { x: axes.x(at_C), y: HIGH - BOTTOM + 17, 'text-anchor': 'middle' }, said),
    ),
  ),
  h('text', { key: 'x', x: WIDE - RIGHT, y: HIGH - 5, 'text-anchor': 'end' }, `°${degrees} at the peak`),
  h('text', { key: 'y', x: LEFT, y: TOP - 6, 'text-anchor': 'start' }, 'Pa·s, stiffer upwards'),
];

/** Bars fired alike stand beside one another, so that each can be read. */
const BESIDE_px = 19;
const apart = (readings: readonly SagReading[]): readonly number[] =>
  readings.map((r, i) => {
    const alike = readings.filter((o) => Math.abs(o.at_C - r.at_C) < 4);
    const place = readings.slice(0, i).filter((o) => Math.abs(o.at_C - r.at_C) < 4).length;
    return (place - (alike.length - 1) / 2) * BESIDE_px;
  });

const barMark = (r: SagReading, beside: number, { x, y }: Axes, cls: string) => {
  const [at, middle] = [x(r.at_C) + beside, y(r.viscosity_Pa_s)];
  const mark =
    r.kind === 'value'
      ? [
          h('path', { key: 'w', d: `M${at - 4} ${y(r.low_Pa_s)}h8m-4 0V${y(r.high_Pa_s)}m-4 0h8` }),
          h('circle', { key: 'c', cx: at, cy: middle, r: 3.5 }),
        ]
      : r.kind === 'no stiffer than'
        ? h('path', { class: 'bound', d: `M${at - 7} ${middle}h14m-7 0v16m-5 -6l5 6l5 -6` })
        : h('path', { class: 'bound', d: `M${at - 7} ${middle}h14m-7 0v-16m-5 6l5 -6l5 6` });
  return h(
    'g',
    { key: r.bar, class: `bar-read ${cls}`, 'data-bar': r.bar, 'data-kind': r.kind },
    mark,
    h('text', { x: at, y: Math.max(TOP + 8, y(r.high_Pa_s) - 8), 'text-anchor': 'middle' }, r.bar),
  );
};

interface Props {
  readonly told: TestPiecesTold;
  readonly degrees: Degrees;
  readonly leftOut: readonly string[];
}

/** Viscosity against temperature: believed before, believed now, and what each bar says by itself. */
export const ViscosityChart = ({ told, degrees, leftOut }: Props) => {
  const { sag } = told.finding;
  if (!sag) return null;
  const axes = axesFor(sag.readings, told, sag.belief);
  const [before, after] = [curve(told.before, told, axes), curve(sag.belief, told, axes)];
  const beside = apart(sag.readings);
  const accused = (name: string): boolean => sag.contradictions.some((c) => c.startsWith(`Bar ${name} `));
  return h(
    'figure',
    { class: 'viscosity-chart', 'data-bars': sag.readings.length },
    h(
      'svg',
      {
        viewBox: `0 0 ${WIDE} ${HIGH}`,
        role: 'img',
        'aria-label': `Viscosity against temperature, before and after ${sag.readings.length} bars`,
      },
      paper(axes, degrees),
      h('path', { class: 'band was', d: before.band }),
      h('path', { class: 'band is', d: after.band }),
      h('path', { class: 'line was', d: before.middle }),
      h('path', { class: 'line is', d: after.middle }),
      sag.readings.map((r, i) =>
        barMark(r, beside[i]!, axes, leftOut.includes(r.bar) ? 'out' : accused(r.bar) ? 'accused' : ''),
      ),
    ),
    h(
      'figcaption',
      null,
      h('span', { class: 'key was' }, 'as believed before'),
      h('span', { class: 'key is' }, 'with the bars: four in five lie in the band'),
      h('span', null, 'Dots: each bar by itself. An arrow is only a bound.'),
    ),
  );
};
