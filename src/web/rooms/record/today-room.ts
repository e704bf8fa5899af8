import { type ComponentChild, h } from 'preact';
import { wallClock } from '../../../making/record/instant.ts';
import type { PieceState } from '../../../making/record/piece-state.ts';
import { sayDay, sayWhen } from '../../panels/record/entry-words.ts';
import { FirstRun } from '../../panels/record/first-run.ts';
import { KeepAndCarry } from '../../panels/record/keep-and-carry.ts';
import { PieceTile } from '../../panels/record/piece-tile.ts';
import { SearchBox } from '../../panels/record/search-box.ts';
import { SettingsOfRecord } from '../../panels/record/studio-settings.ts';
import { withStudio } from '../../panels/record/with-studio.ts';
import type { Session } from '../../session.ts';
import type { Firing, Today } from '../../state/record/answers.ts';
import { type Studio, useAsked } from '../../state/record/ask.ts';
import type { RoomProps } from '../rooms.ts';

const WINDOWS = {
  soon: 'the window opens soon',
  open: 'can be carved now',
  over: 'likely too dry to carve',
} as const;

/** More than these are on the page of all pieces. */
const MOST_SHOWN = 8;

interface Named {
  readonly piece: number;
  readonly number: string;
}

const NONE = { stage: 'not begun' } as unknown as PieceState;

const group = <T extends Named>(
  title: string,
  { count, first }: { readonly count: number; readonly first: readonly T[] },
  today: Today,
  studio: Studio,
  line: (one: T) => string,
  hint?: ComponentChild,
) =>
  count > 0 &&
  h(
    'section',
    { class: 'needs', 'aria-label': title },
    h('h2', null, title, h('span', { class: 'count' }, String(count))),
    hint,
    h(
      'div',
      { class: 'piece-tiles small' },
      first.slice(0, MOST_SHOWN).map((one) =>
        h(PieceTile, {
          key: one.piece,
          state: { ...(today.pieces[one.piece] ?? NONE), number: one.number },
          studio,
          line: line(one),
        }),
      ),
    ),
    count > MOST_SHOWN && h('p', null, h('a', { href: '#piece' }, `and ${count - MOST_SHOWN} more`)),
  );

const firingLine = ({ id, state, pieces }: Firing, zone: string, now_utc: string) => {
  const since = state.off_utc ?? state.lit_utc;
  const last = state.readings.at(-1);
  return h(
    'li',
    { key: id },
    h(
      'a',
      { class: 'button', href: `#firing/${id}` },
      h('b', null, state.name ?? `Firing ${id}`),
      ` ${state.stage === 'lit' ? 'running' : 'cooling'} since ${since ? sayWhen(since, zone, now_utc) : 'some time'}, ${pieces} pieces${last ? `, last reading ${Math.round(last.temperature_C)} °C` : ''}`,
    ),
  );
};

const days = (n: number): string => {
  if (n === 0) return 'today';
  return n > 0 ? `in ${n} ${n === 1 ? 'day' : 'days'}` : `${-n} ${n === -1 ? 'day' : 'days'} late`;
};

const ORDER = [
  'begun',
  'formed',
  'drying',
  'bone dry',
  'set',
  'fired',
  'unloaded',
  'finished',
  'sold',
  'lost',
];

/** Where all pieces stand, as one line. */
const standing = (stages: Today['stages']) =>
  h(
    'p',
    { class: 'stages' },
    ORDER.filter((stage) => stages[stage]).map((stage) =>
      h('span', { key: stage }, h('b', null, String(stages[stage])), ` ${stage}`),
    ),
  );

const needs = (today: Today, studio: Studio) => {
  const { settings } = studio;
  const { zone, carveFrom_h, carveUntil_h } = settings;
  const now = wallClock(today.now_utc, zone).day;
  const parts = [
    group(
      'Drying, near the carving window',
      today.drying,
      today,
      studio,
      (one) => `${Math.round(one.hours)} h: ${WINDOWS[one.window]}`,
      h(
        'p',
        { class: 'hint' },
        `Window ${carveFrom_h} to ${carveUntil_h} h as the settings say: a guess until your own pieces say better.`,
      ),
    ),
    today.firings.length > 0 &&
      h(
        'section',
        { class: 'needs', 'aria-label': 'Firings under way' },
        h('h2', null, 'Firings under way'),
        h(
          'ul',
          null,
          today.firings.map((firing) => firingLine(firing, zone, today.now_utc)),
        ),
      ),
    group(
      'Dates coming',
      today.due,
      today,
      studio,
      (one) => `${one.why}, ${sayDay(one.day, now)}: ${days(one.days)}`,
    ),
    group('Finished, without a price', today.unpriced, today, studio, () => 'no price'),
    group('Out of the kiln, without a photo', today.unphotographed, today, studio, () => 'no photo'),
  ].filter(Boolean);
  return parts.length > 0 ? parts : h('p', { class: 'nothing-needed' }, 'Nothing needs you now.');
};

const TodayPage = ({
  studio,
  session,
  again,
}: {
  readonly studio: Studio;
  readonly session: Session;
  readonly again: () => Promise<void>;
}) => {
  const { value: today, trouble, again: look } = useAsked<Today>('/today');
  if (studio.empty) return h(FirstRun, { session, done: () => void again().then(look) });
  return h(
    'main',
    { class: 'room today' },
    h(
      'div',
      { class: 'row' },
      h('h1', null, studio.settings.name),
      h('span', { class: 'spring' }),
      h('a', { class: 'button', href: '#firing' }, 'Firings'),
      h('a', { class: 'button main', href: '#new-piece' }, 'New piece'),
    ),
    h(SearchBox, { studio }),
    trouble !== undefined && h('p', { class: 'wrong', role: 'alert' }, trouble),
    today && [
      h('div', { key: 'needs', class: 'all-needs' }, needs(today, studio)),
      h(
        'section',
        { key: 'recent', class: 'recent', 'aria-label': 'Last begun' },
        h('h2', null, 'Last begun'),
        today.recent.length === 0 && h('p', { class: 'hint' }, 'No piece yet.'),
        h(
          'div',
          { class: 'piece-tiles' },
          today.recent.map(({ id, state }) => h(PieceTile, { key: id, state, studio })),
        ),
      ),
      h('section', { key: 'stages', 'aria-label': 'All pieces' }, standing(today.stages)),
      h(KeepAndCarry, { key: 'keep', zone: studio.settings.zone }),
      h(SettingsOfRecord, { key: 'settings', settings: studio.settings, kept: again }),
    ],
  );
};

/** What needs somebody now. */
export const TodayRoom = ({ session }: RoomProps) =>
  withStudio((studio, again) => h(TodayPage, { studio, session, again }));
