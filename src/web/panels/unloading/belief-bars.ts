import { h } from 'preact';
import type { Belief, KilnBelief } from '../../../making/learning/belief.ts';
import { DEVIATIONS_80 } from '../../../making/learning/expected.ts';
import { unknownKiln } from '../../../making/learning/start.ts';
import { brief, type Degrees, plain } from '../../words.ts';

/** One thing believed, before and after, on a scale of its own: middle and half width that four in five keep within. */
interface Row {
  readonly name: string;
  readonly before: readonly [mean: number, half: number];
  readonly after: readonly [mean: number, half: number];
  readonly told: (mean: number, half: number) => string;
}

const WIDTH = 300;

const times = (mean: number, half: number): string => {
  const factor = (x: number): string => brief(Math.exp(x), 2);
  return `${factor(mean)} × as soft (${factor(mean - half)} to ${factor(mean + half)})`;
};

const signed = (x: number, places: number): string =>
  `${Number(x.toFixed(places)) > 0 ? '+' : ''}${plain(x, places)}`;

const kilnRow = (before: Belief, kiln: KilnBelief, degrees: Degrees): Row => {
  const was = before.kilns.find(({ name }) => name === kiln.name) ?? unknownKiln(kiln.name);
  const per = degrees === 'F' ? 1.8 : 1;
  return {
    name: `${kiln.name}: hotter than set`,
    before: [was.mean_K, DEVIATIONS_80 * was.sd_K],
    after: [kiln.mean_K, DEVIATIONS_80 * kiln.sd_K],
    told: (mean, half) => `${signed(per * mean, 0)} ± ${plain(per * half, 0)} °${degrees}`,
  };
};

const percent = (mean: number, half: number): string =>
  `${signed(100 * mean, 1)} ± ${plain(100 * half, 1)} %`;

const rowsOf = (before: Belief, after: Belief, degrees: Degrees): Row[] => {
  const of = (key: 'softness' | 'size', belief: Belief): readonly [number, number] => [
    belief[key].mean,
    DEVIATIONS_80 * belief[key].sd,
  ];
  return [
    {
      name: 'Clay, against its file',
      before: of('softness', before),
      after: of('softness', after),
      told: times,
    },
    ...after.kilns.map((kiln) => kilnRow(before, kiln, degrees)),
    {
      name: 'Fired size, against its file',
      before: of('size', before),
      after: of('size', after),
      told: percent,
    },
  ];
};

const bar = ({ before, after }: Row) => {
  const reach = 1.1 * Math.max(...[before, after].map(([mean, half]) => Math.abs(mean) + half), 1e-9);
  const x = (v: number): string => ((WIDTH / 2) * (1 + v / reach)).toFixed(1);
  const range = (cls: string, [mean, half]: readonly [number, number], y: number) => [
    h('path', { key: cls, class: cls, d: `M${x(mean - half)} ${y}H${x(mean + half)}` }),
    h('path', { key: `${cls}-middle`, class: 'middle', d: `M${x(mean)} ${y - 7}v14` }),
  ];
  return h(
    'svg',
    { viewBox: `0 0 ${WIDTH} 46`, preserveAspectRatio: 'none', 'aria-hidden': true },
    h('path', { class: 'nought', d: `M${WIDTH / 2} 0V46` }),
    range('was', before, 12),
    range('is', after, 33),
  );
};

/** What was believed before and what after, as bars that tighten: four in five. */
export const BeliefBars = ({
  before,
  after,
  degrees,
}: {
  readonly before: Belief;
  readonly after: Belief;
  readonly degrees: Degrees;
}) =>
  h(
    'dl',
    { class: 'belief-bars' },
    rowsOf(before, after, degrees).map((row) =>
      h(
        'div',
        { key: row.name },
        h('dt', null, row.name),
        h('dd', null, bar(row)),
        h(
          'dd',
          { class: 'told' },
          h('span', { class: 'was' }, `before ${row.told(...row.before)}`),
          h('span', { class: 'is' }, `now ${row.told(...row.after)}`),
        ),
      ),
    ),
  );
