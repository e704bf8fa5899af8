import { h } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import { heatWork } from '../../making/kiln/heat-work.ts';
import { type Schedule, temperatureHistory } from '../../making/kiln/schedule.ts';
import { celsiusFromKelvin, fahrenheitFromCelsius } from '../../units.ts';
import { historyUpTo, temperatureAt_K } from '../heat.ts';
import { type Degrees, temperatureText, timeText } from '../words.ts';
import { coneRow } from './cone-row.ts';

/** Room the curve's axes take; the scrubber lies exactly over what is left. */
const LEFT_px = 54;
const RIGHT_px = 22;
const TOP_px = 10;
const BOTTOM_px = 26;

interface Props {
  readonly schedule: Schedule;
  readonly degrees: Degrees;
  readonly moment: number;
  readonly playing: boolean;
  readonly scrub: (moment: number) => void;
  readonly play: () => void;
}

const INK = '#2a2521';
const axis = { stroke: INK, font: '12px system-ui, sans-serif', ticks: { size: 4, stroke: '#b5a488' } };

const optionsFor = (width: number, height: number, degrees: Degrees): uPlot.Options => ({
  width,
  height,
  padding: [TOP_px, RIGHT_px, 0, 0],
  legend: { show: false },
  cursor: { show: false },
  scales: { x: { time: false }, y: { range: (_, __, most) => [0, most * 1.08] } },
  axes: [
    {
      ...axis,
      size: BOTTOM_px,
      grid: { stroke: '#e4d8c3', width: 1 },
      values: (_, hours) => hours.map((x) => `${x} h`),
    },
    {
      ...axis,
      size: LEFT_px,
      grid: { stroke: '#e4d8c3', width: 1 },
      space: 22,
      values: (_, all) => all.map((y) => `${y}°${degrees}`),
    },
  ],
  series: [{}, { stroke: INK, width: 2, fill: 'rgba(178, 58, 30, 0.10)', points: { show: false } }],
});

const dataOf = (schedule: Schedule, degrees: Degrees): uPlot.AlignedData => {
  const { time_s, temperature_K } = temperatureHistory(schedule);
  const shown = (t_K: number): number =>
    degrees === 'C' ? celsiusFromKelvin(t_K) : fahrenheitFromCelsius(celsiusFromKelvin(t_K));
  return [Array.from(time_s, (t) => t / 3600), Array.from(temperature_K, shown)];
};

const curve = ({ schedule, degrees }: Pick<Props, 'schedule' | 'degrees'>) => {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const at = box.current;
    // Another page was opened before this one was painted.
    if (!at) return undefined;
    const size = () => ({ width: at.clientWidth, height: at.clientHeight });
    const plot = new uPlot(
      optionsFor(at.clientWidth, at.clientHeight, degrees),
      dataOf(schedule, degrees),
      at,
    );
    const watch = new ResizeObserver(() => plot.setSize(size()));
    watch.observe(at);
    return () => {
      watch.disconnect();
      plot.destroy();
    };
  }, [schedule, degrees]);
  return h('div', { class: 'curve', ref: box, 'aria-hidden': true });
};

/** The firing as a film: the curve is the strip, and the grip runs along it. */
export const FilmStrip = ({ schedule, degrees, moment, playing, scrub, play }: Props) => {
  const history = useMemo(() => temperatureHistory(schedule), [schedule]);
  const total_s = history.time_s.at(-1)!;
  const hottest_K = history.temperature_K.reduce((a, b) => Math.max(a, b), 0);
  const time_s = moment * total_s;
  const now_K = temperatureAt_K(history, time_s);
  const cones = useMemo(() => heatWork(historyUpTo(history, time_s)), [history, time_s]);
  const top_share = 1 - celsiusFromKelvin(now_K) / (celsiusFromKelvin(hottest_K) * 1.08);
  const said = `${temperatureText(now_K, degrees)}, ${timeText(time_s)}, ${cones.text}`;
  return h(
    'section',
    { class: 'film', 'aria-label': 'The firing' },
    h(
      'div',
      {
        class: 'now',
        'data-film-temperature-c': celsiusFromKelvin(now_K).toFixed(1),
        'data-film-time-s': time_s.toFixed(0),
      },
      h(
        'button',
        { type: 'button', class: 'play', onClick: play, 'aria-pressed': playing },
        playing ? 'Pause' : 'Play',
      ),
      h('strong', null, temperatureText(now_K, degrees)),
      h('span', null, timeText(time_s)),
      coneRow(cones),
      h('span', { class: 'cone-said', 'data-cone-said': cones.text }, cones.text),
    ),
    h(
      'div',
      { class: 'strip' },
      h(curve, { schedule, degrees }),
      h('i', {
        class: 'dot',
        style: {
          left: `calc(${LEFT_px}px + (100% - ${LEFT_px + RIGHT_px}px) * ${moment})`,
          top: `calc(${TOP_px}px + (100% - ${TOP_px + BOTTOM_px}px) * ${Math.max(0, top_share)})`,
        },
      }),
      h('input', {
        type: 'range',
        class: 'scrubber',
        min: 0,
        max: 1000,
        step: 1,
        value: Math.round(moment * 1000),
        'aria-label': 'Moment of the firing',
        'aria-valuetext': said,
        onInput: (event: Event) => scrub(Number((event.target as HTMLInputElement).value) / 1000),
      }),
    ),
  );
};
