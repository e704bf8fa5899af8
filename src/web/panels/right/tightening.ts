import { h } from 'preact';
import type { Belief } from '../../../making/learning/belief.ts';
import { DEVIATIONS_80 } from '../../../making/learning/expected.ts';
import { tightened } from '../../../making/learning/how-right.ts';
import type { LearningLog } from '../../../making/learning/learning-log.ts';
import { brief, type Degrees, type Lengths, lengthReading, plain, readWithUnit } from '../../words.ts';
import { ticksOf } from './axis.ts';

/** One thing known better and better: after each update a middle and what four in five lie between. */
interface Course {
  readonly name: string;
  /** In the end, in words. */
  readonly told: string;
  /** Nothing where it was not yet heard of. */
  readonly steps: readonly (readonly [low: number, middle: number, high: number] | undefined)[];
  /** Marks of the axis, with what to write there. */
  readonly ticks: readonly (readonly [at: number, text: string])[];
}

const WIDTH = 360;
const HEIGHT = 170;
const LEFT = 54;
const FOOT = 26;
const TOP = 10;

interface Stop {
  readonly label: string;
  readonly belief: Belief;
}

const stopsOf = (log: LearningLog): Stop[] => [
  { label: 'start', belief: log.start },
  ...log.entries.map((e) => ({
    label: e.kind === 'taken back' ? 'back' : e.date.slice(5),
    belief: e.after,
  })),
];

const softness = (stops: readonly Stop[]): Course => {
  const steps = stops.map(({ belief: { softness: s } }) => {
    const half = DEVIATIONS_80 * s.sd;
    return [s.mean - half, s.mean, s.mean + half] as const;
  });
  const [low, middle, high] = steps[steps.length - 1].map(Math.exp);
  const shown = [0.25, 0.5, 1, 2, 4].map((f) => [Math.log(f), `${brief(f, 2)} ×`] as const);
  return {
    name: 'Softness of the clay, against its file',
    told: `${plain(middle, 2)} × as soft (${plain(low, 2)} to ${plain(high, 2)})`,
    steps,
    ticks: shown,
  };
};

const kilnCourse = (name: string, stops: readonly Stop[], degrees: Degrees): Course => {
  const per = degrees === 'F' ? 1.8 : 1;
  const steps = stops.map(({ belief }) => {
    const k = belief.kilns.find((kiln) => kiln.name === name);
    const half = k && DEVIATIONS_80 * k.sd_K;
    return k && half !== undefined
      ? ([per * (k.mean_K - half), per * k.mean_K, per * (k.mean_K + half)] as const)
      : undefined;
  });
  const last = steps.findLast((s) => s !== undefined) ?? [0, 0, 0];
  const all = [...steps.flatMap((s) => s ?? []), 0];
  return {
    name: `${name}, hotter than set`,
    told: `${last[1] > 0 ? '+' : ''}${plain(last[1])} ± ${plain((last[2] - last[0]) / 2)} °${degrees}`,
    steps,
    ticks: ticksOf(Math.min(...all), Math.max(...all), 4).map((t) => [t, `${plain(t)}°`] as const),
  };
};

const movement = (log: LearningLog, lengths: Lengths): Course | undefined => {
  const halves = tightened(log).map(({ movement_mm }) => movement_mm);
  const last = halves[halves.length - 1];
  if (!Number.isFinite(last)) return undefined;
  const per = lengths === 'mm' ? 1 : 25.4;
  const reading = lengthReading(lengths);
  const most = Math.max(...halves) / per;
  return {
    name: 'How far these pieces move, foretold within',
    told: `± ${readWithUnit(last / 1000, reading)}, at the start ± ${readWithUnit(halves[0] / 1000, reading)}`,
    steps: halves.map((half) => [-half / per, 0, half / per] as const),
    ticks: ticksOf(-most, most, 4).map((t) => [t, brief(t, reading.places)] as const),
  };
};

const picture = ({ name, told, steps, ticks }: Course, labels: readonly string[]) => {
  const values = [...steps.flatMap((s) => s ?? []), 0];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = 0.06 * (high - low || 1);
  const Y = (v: number): number =>
    HEIGHT - FOOT - ((v - low + room) / (high - low + 2 * room)) * (HEIGHT - FOOT - TOP);
  const wide = (WIDTH - LEFT - 8) / steps.length;
  const X = (i: number): number => LEFT + wide * (i + 0.5);
  // Labels need some 44 units each.
  const every = Math.ceil(44 / wide);
  return h(
    'svg',
    { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, role: 'img', 'aria-label': `${name}: ${told}` },
    ticks
      .filter(([t]) => t >= low - room && t <= high + room)
      .map(([t, text]) => [
        h('path', { key: `g${t}`, class: t === 0 ? 'nought' : 'grid', d: `M${LEFT} ${Y(t)}H${WIDTH}` }),
        h('text', { key: `t${t}`, x: LEFT - 6, y: Y(t) + 4, 'text-anchor': 'end' }, text),
      ]),
    steps.map((step, i) =>
      step
        ? [
            h('path', {
              key: `b${i}`,
              class: i === steps.length - 1 ? 'range now' : 'range',
              d: `M${X(i)} ${Y(step[0])}V${Y(step[2])}`,
            }),
            h('path', { key: `m${i}`, class: 'middle', d: `M${X(i) - 8} ${Y(step[1])}h16` }),
          ]
        : null,
    ),
    labels.map((label, i) =>
      i % every === 0
        ? h('text', { key: `l${i}`, x: X(i), y: HEIGHT - 8, 'text-anchor': 'middle' }, label)
        : null,
    ),
  );
};

/** How belief drew together, update by update: the clay, each kiln, and what that does to predictions. */
export const Tightening = ({
  log,
  lengths,
  degrees,
}: {
  readonly log: LearningLog;
  readonly lengths: Lengths;
  readonly degrees: Degrees;
}) => {
  const stops = stopsOf(log);
  const kilns = [...new Set(stops.flatMap(({ belief }) => belief.kilns.map((k) => k.name)))];
  const moving = movement(log, lengths);
  const courses = [
    softness(stops),
    ...kilns.map((name) => kilnCourse(name, stops, degrees)),
    ...(moving ? [moving] : []),
  ];
  return h(
    'section',
    { class: 'tightening', 'aria-label': 'How belief drew together' },
    h('h2', null, 'How belief drew together'),
    h('p', { class: 'hint' }, 'One bar for each update: four in five lie within it.'),
    h(
      'div',
      { class: 'courses' },
      courses.map((course) =>
        h(
          'figure',
          { key: course.name },
          h('figcaption', null, h('b', null, course.name), h('span', null, course.told)),
          picture(
            course,
            stops.map((s) => s.label),
          ),
        ),
      ),
    ),
  );
};
