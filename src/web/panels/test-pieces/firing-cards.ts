import { h } from 'preact';
import { useState } from 'preact/hooks';
import { CONE_LAWS } from '../../../making/kiln/cone-law.ts';
import type { TestFiring } from '../../../making/test-pieces-file.ts';
import { logTyped, type TimeUnit } from '../../state/log-typed.ts';
import type { Studio } from '../../state/page.ts';
import { type DraftTests, nextName } from '../../state/test-pieces-draft.ts';
import type { TestsDesk } from '../../state/tests-desk.ts';
import { type Degrees, plain } from '../../words.ts';
import { MeasureBox, pick, textBox } from './measure-box.ts';

const BY_LOG = '';

interface CardProps {
  readonly studio: Studio;
  readonly desk: TestsDesk;
  readonly at: number;
  readonly degrees: Degrees;
}

/** Rows follow when a firing is called something else. */
const renamed = (draft: DraftTests, from: string, to: string): Partial<DraftTests> => {
  const follow = <T extends { readonly firing?: string | undefined }>(rows: readonly T[]): T[] =>
    rows.map((row) => (row.firing === from ? { ...row, firing: to } : row));
  return {
    sagBars: follow(draft.sagBars),
    shrinkageBars: follow(draft.shrinkageBars),
    absorption: follow(draft.absorption),
  };
};

const logTold = (log: NonNullable<TestFiring['log']>, degrees: Degrees): string => {
  const peak = Math.max(...log.map((p) => p.temperature_C));
  return `A log of ${log.length} readings over ${plain(log.at(-1)!.time_h - log[0]!.time_h, 1)} h, up to ${plain(degrees === 'C' ? peak : peak * 1.8 + 32)} °${degrees}.`;
};

const PasteLog = ({
  degrees,
  take,
}: {
  readonly degrees: Degrees;
  readonly take: (log: TestFiring['log']) => void;
}) => {
  const [text, setText] = useState('');
  const [unit, setUnit] = useState<TimeUnit>('hours');
  const [wrong, setWrong] = useState<string>();
  const read = (): void => {
    const log = logTyped(text, unit, degrees);
    if (typeof log === 'string') setWrong(log);
    else take([...log]);
  };
  return h(
    'div',
    { class: 'paste-log' },
    h(
      'label',
      { class: 'measure-box text' },
      h('span', { class: 'name' }, `The thermometer's log: a time and °${degrees} a line`),
      h('textarea', {
        rows: 5,
        value: text,
        placeholder: degrees === 'C' ? '0:00 20\n9:00 650\n13:30 1255' : '0:00 68\n9:00 1200\n13:30 2290',
        'data-field': 'log',
        onInput: (event: Event) => setText((event.target as HTMLTextAreaElement).value),
      }),
    ),
    h(
      'div',
      { class: 'row' },
      pick(
        'Times in',
        'log-unit',
        unit,
        [
          ['hours', 'hours, or h:min'],
          ['minutes', 'minutes'],
        ],
        (u) => setUnit(u as TimeUnit),
      ),
      h('button', { type: 'button', 'data-do': 'take-log', onClick: read }, 'Take this log'),
    ),
    wrong !== undefined && h('p', { class: 'fault', role: 'alert' }, wrong),
  );
};

const cones = (
  { cones: stood = [] }: TestFiring,
  at: number,
  change: (part: Partial<TestFiring>) => void,
) => {
  const names = CONE_LAWS.map((l) => [l.cone, `cone ${l.cone}`] as const);
  const set = (i: number, part: object): void =>
    change({ cones: stood.map((c, k) => (k === i ? { ...c, ...part } : c)) });
  const next = names[Math.min(names.length - 1, names.findIndex(([c]) => c === stood.at(-1)?.cone) + 1)];
  return h(
    'div',
    { class: 'cones' },
    stood.map((c, i) =>
      h(
        'div',
        { key: i, class: 'cone-entry' },
        pick('Witness cone', `firings[${at}].cones[${i}].cone`, c.cone, names, (cone) => set(i, { cone })),
        h(MeasureBox, {
          label: 'Bent by',
          unit: '°',
          field: `firings[${at}].cones[${i}].bend_deg`,
          value: c.bend_deg,
          lengths: 'mm',
          change: (bend_deg) => set(i, { bend_deg: Math.min(180, Math.max(0, bend_deg ?? 0)) }),
        }),
        h(
          'button',
          {
            type: 'button',
            class: 'away',
            'aria-label': `Take cone ${c.cone} away`,
            onClick: () => change({ cones: stood.filter((_, k) => k !== i) }),
          },
          '×',
        ),
      ),
    ),
    h(
      'button',
      {
        type: 'button',
        'data-do': 'add-cone',
        onClick: () =>
          change({
            cones: [
              ...stood,
              { cone: stood.length === 0 ? '10' : (next?.[0] ?? '10'), bend_deg: 0, plusMinus_deg: 10 },
            ],
          }),
      },
      'Add a witness cone',
    ),
    stood.length > 0 &&
      h('p', { class: 'hint' }, '0° stands as it was, 90° has its tip level with its foot.'),
  );
};

const Card = ({ studio, desk, at, degrees }: CardProps) => {
  const { draft, faults } = desk.now();
  const firing = draft.firings[at]!;
  const change = (part: Partial<TestFiring>): void =>
    desk.change({ firings: draft.firings.map((f, i) => (i === at ? { ...f, ...part } : f)) });
  const rename = (name: string): void => {
    if (name === '' || draft.firings.some((f) => f.name === name)) return;
    desk.change({
      ...renamed(draft, firing.name, name),
      firings: draft.firings.map((f, i) => (i === at ? { ...f, name } : f)),
    });
  };
  const { log: _log, schedule: _schedule, ...bare } = firing;
  const heated = (by: string): void =>
    desk.change({
      firings: draft.firings.map((f, i) =>
        i === at ? { ...bare, ...(by === BY_LOG ? { log: [] } : { schedule: by }) } : f,
      ),
    });
  const schedules = Object.entries(studio.schedules).map(
    ([key, s]) => [`${key}.schedule.json`, s.name] as const,
  );
  const fault = faults[`firings[${at}]`];
  return h(
    'li',
    { class: 'test-card', 'data-firing': firing.name },
    h(
      'div',
      { class: 'boxes' },
      textBox('Firing', `firings[${at}].name`, firing.name, rename, faults[`firings[${at}].name`]),
      textBox('Kiln', `firings[${at}].kiln`, firing.kiln, (kiln) => kiln !== '' && change({ kiln })),
      pick(
        'Heat',
        `firings[${at}].schedule`,
        firing.schedule ?? BY_LOG,
        [...schedules, [BY_LOG, 'by its log']],
        heated,
      ),
    ),
    firing.schedule === undefined &&
      (firing.log && firing.log.length > 1
        ? h(
            'p',
            { class: 'row', 'data-log': firing.log.length },
            logTold(firing.log, degrees),
            h('button', { type: 'button', onClick: () => change({ log: [] }) }, 'Paste another'),
          )
        : h(PasteLog, { degrees, take: (log) => change({ log }) })),
    fault && h('p', { class: 'fault', role: 'alert' }, `${fault.value} will not do: ${fault.expected}.`),
    cones(firing, at, change),
    draft.firings.length > 1 &&
      h(
        'button',
        {
          type: 'button',
          class: 'away',
          'aria-label': `Take firing ${firing.name} away`,
          onClick: () => desk.change({ firings: draft.firings.filter((_, i) => i !== at) }),
        },
        '×',
      ),
  );
};

/** Which firings the pieces were in: what the kiln was set to or what its thermometer said, and the cones beside. */
export const FiringCards = ({
  studio,
  desk,
  degrees,
}: {
  readonly studio: Studio;
  readonly desk: TestsDesk;
  readonly degrees: Degrees;
}) => {
  const { firings } = desk.now().draft;
  const schedule = `${studio.studio.schedule}.schedule.json`;
  return h(
    'section',
    { class: 'test-group', 'aria-label': 'Firings' },
    h('h2', null, 'Firings they were in'),
    h(
      'ul',
      { class: 'test-cards' },
      firings.map((_, at) => h(Card, { key: at, studio, desk, at, degrees })),
    ),
    h(
      'button',
      {
        type: 'button',
        'data-do': 'add-firing',
        onClick: () =>
          desk.change({
            firings: [
              ...firings,
              { name: nextName(firings, 'firing '), kiln: firings.at(-1)?.kiln ?? 'the kiln', schedule },
            ],
          }),
      },
      'Add a firing',
    ),
  );
};
