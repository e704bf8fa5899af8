import { h } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { type Compared, howRight } from '../../making/learning/how-right.ts';
import type { LearningLog } from '../../making/learning/learning-log.ts';
import { Biases } from '../panels/right/biases.ts';
import { type About, Diagonal } from '../panels/right/diagonal.ts';
import { linkTo, RightList, rowTold } from '../panels/right/right-list.ts';
import { Tightening } from '../panels/right/tightening.ts';
import { coverageText, judgement } from '../panels/right/words-of-right.ts';
import { Tabs } from '../panels/tabs.ts';
import { type Desk, logOf, useDesk, waiting } from '../state/learning.ts';
import type { RoomProps } from './rooms.ts';

const ABOUT: readonly (readonly [About, string])[] = [
  ['movement', 'How far they moved'],
  ['size', 'How large they came out'],
];

const nothingYet = () =>
  h(
    'section',
    { class: 'nothing-yet' },
    h('h2', null, 'No kiln was opened yet'),
    h(
      'p',
      null,
      'Measure a few pieces when the next firing comes out, and this page shows how near the predictions were. ',
      h('a', { class: 'button', href: '#unloading' }, 'Out of the kiln'),
    ),
  );

/** Unloadings that were kept and not learned from. */
const stillWaiting = (desk: Desk, keys: readonly string[]) => {
  const { running, trouble } = desk.now();
  if (!running && keys.length === 0 && trouble === undefined) return null;
  return h(
    'section',
    { class: 'still-waiting', 'aria-label': 'Not yet learned from' },
    running
      ? [
          h('progress', { key: 'p', max: 1, value: running.fraction, 'aria-label': 'Learning' }),
          h('p', { key: 'n', role: 'status' }, `Working it out: ${running.key}, ${running.note}`),
          h('button', { key: 'b', type: 'button', onClick: desk.cancel }, 'Stop'),
        ]
      : keys.length > 0 && [
          h(
            'p',
            { key: 'n' },
            `${keys.length} ${keys.length === 1 ? 'unloading is' : 'unloadings are'} kept and not learned from.`,
          ),
          h(
            'button',
            {
              key: 'b',
              type: 'button',
              class: 'main',
              'data-do': 'learn-all',
              onClick: () => void desk.learn(keys),
            },
            'Learn from them, oldest first',
          ),
        ],
    trouble !== undefined && h('p', { class: 'fault', role: 'alert' }, trouble),
  );
};

/** Notes of a log and of what it learned from: invented data say here that they are. */
const notesOf = (desk: Desk, log: LearningLog): string[] => {
  const own = Object.values(desk.now().unloadings);
  const invented = own.filter(({ note }) => /^invented/i.test(note ?? '')).length;
  return [
    ...(invented > 0
      ? [`Invented: ${invented} of ${own.length} unloadings are made up, for trying things out.`]
      : []),
    ...(log.note !== undefined && invented === 0 ? [log.note] : []),
  ];
};

const chosenLine = (desk: Desk, log: LearningLog, row: Compared | undefined, lengths: 'mm' | 'in') =>
  h(
    'p',
    { class: 'chosen-line', role: 'status' },
    row
      ? [
          `${rowTold(desk.studio, row, lengths)}. `,
          h('a', { key: 'a', href: linkTo(log, row) }, 'Its unloading'),
        ]
      : 'Tap a mark to see which piece it is.',
  );

/** Predicted against measured, for every piece that ever came out. */
export const RightRoom = ({ session }: RoomProps) => {
  const { studio, lengths, degrees } = session.page();
  const desk = useDesk(studio);
  const clays = Object.keys(studio.clays);
  const [clay, setClay] = useState(studio.studio.clay);
  const [about, setAbout] = useState<About>('movement');
  const [chosen, setChosen] = useState<Compared | undefined>(undefined);
  const log = logOf(desk, clay);
  const keys = waiting(desk.now(), clay, log);
  useEffect(() => setChosen(undefined), [log, about]);
  const right = howRight(log);
  const { rows } = right;
  const empty = rows.length === 0 && keys.length === 0 && !desk.now().running;
  return h(
    'main',
    { class: 'room right' },
    clays.length > 1 &&
      h(
        'label',
        { class: 'fact' },
        'Clay',
        h(
          'select',
          { value: clay, onChange: (event: Event) => setClay((event.target as HTMLSelectElement).value) },
          clays.map((key) => h('option', { key, value: key }, studio.clays[key].name)),
        ),
      ),
    empty && nothingYet(),
    rows.length > 0 && [
      h(
        'div',
        { key: 'said', class: 'right-said' },
        h('p', { class: 'said', 'data-said': 'coverage' }, `${coverageText(right)}. ${judgement(right)}`),
        notesOf(desk, log).map((note) => h('p', { key: note, class: 'hint invented' }, note)),
      ),
      h(
        'section',
        { key: 'picture', class: 'right-picture', 'aria-label': 'Predicted against measured' },
        h(Tabs<About>, {
          tabs: ABOUT,
          chosen: about,
          panel: 'right-panel',
          label: 'What is compared',
          choose: setAbout,
        }),
        h(
          'div',
          { role: 'tabpanel', id: 'right-panel', 'aria-labelledby': `tab-${about}` },
          h(Diagonal, { rows, about, lengths, chosen, choose: setChosen }),
          h(
            'p',
            { class: 'hint' },
            about === 'movement'
              ? 'On the line: exactly as predicted. Each bar: where four in five were expected, measuring included.'
              : 'The diagonal is laid flat here, for sizes lie so near to it. On the line: exactly as predicted.',
          ),
        ),
      ),
      h(
        'div',
        { key: 'bias', class: 'right-bias' },
        chosenLine(desk, log, chosen, lengths),
        h(
          'p',
          { class: 'legend' },
          h('span', { class: 'inside' }, 'dark: inside its interval'),
          h('span', { class: 'outside' }, 'red: outside'),
        ),
        h(Biases, { title: 'By how they stood', list: right.byAttitude, lengths, marked: true }),
        h(Biases, { title: 'By kiln', list: right.byKiln, lengths, marked: false }),
      ),
    ],
    stillWaiting(desk, keys),
    rows.length > 0 && h(Tightening, { log, lengths, degrees }),
    rows.length > 0 && h(RightList, { studio, log, rows, lengths }),
  );
};
