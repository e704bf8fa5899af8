import { h } from 'preact';
import type { Entry } from '../../../making/record/entry.ts';
import type { KindName } from '../../../making/record/kinds.ts';
import { atLeast, type PieceState } from '../../../making/record/piece-state.ts';
import { standing } from '../../../making/record/standing.ts';
import type { FormTold } from '../../state/record/answers.ts';
import { silhouette } from '../unloading/silhouette.ts';
import { shortDay } from './entry-words.ts';

/** The life of a piece drawn from the form to the door. */

interface Stop {
  readonly name: string;
  readonly kinds: readonly KindName[];
  readonly passed: (state: PieceState) => boolean;
}

const STOPS: readonly Stop[] = [
  { name: 'Formed', kinds: ['formed'], passed: ({ stage }) => atLeast(stage, 'formed') },
  { name: 'Carved', kinds: ['carved'], passed: () => false },
  { name: 'Drying', kinds: ['drying'], passed: ({ stage }) => atLeast(stage, 'bone dry') },
  { name: 'Bone dry', kinds: ['dry'], passed: ({ stage }) => atLeast(stage, 'bone dry') },
  { name: 'In the kiln', kinds: ['set'], passed: ({ stage }) => atLeast(stage, 'set') },
  { name: 'Fired', kinds: ['fired'], passed: ({ stage }) => atLeast(stage, 'fired') },
  { name: 'Out', kinds: ['unloaded'], passed: ({ stage }) => atLeast(stage, 'unloaded') },
  { name: 'Finished', kinds: ['finished'], passed: ({ stage }) => atLeast(stage, 'finished') },
  { name: 'Priced', kinds: ['priced'], passed: ({ price }) => price !== undefined },
  { name: 'Packed', kinds: ['packed'], passed: () => false },
  { name: 'Shown', kinds: ['shown', 'consigned'], passed: () => false },
  { name: 'Sold', kinds: ['sold'], passed: ({ stands }) => stands === 'sold' },
];

const door = () =>
  h(
    'svg',
    { viewBox: '0 0 100 100', class: 'door', 'aria-hidden': true },
    h('path', { d: 'M24 92V10H76V92' }),
    h('path', { d: 'M24 10L58 20V98L24 92' }),
    h('circle', { cx: 52, cy: 58, r: 3 }),
    h('path', { class: 'shelf', d: 'M4 92H96' }),
  );

/** When each stop was last reached, of the entries that count. */
const reached = (entries: readonly Entry[]): ReadonlyMap<KindName, Entry> =>
  new Map(standing(entries).map((entry) => [entry.kind, entry]));

export const LifeLine = ({
  state,
  entries,
  form,
  zone,
  now_utc,
}: {
  readonly state: PieceState;
  readonly entries: readonly Entry[];
  readonly form: FormTold | undefined;
  readonly zone: string;
  readonly now_utc: string;
}) => {
  const known = reached(entries);
  const done = STOPS.map(({ kinds, passed }) => {
    const entry = kinds.flatMap((kind) => known.get(kind) ?? []).at(-1);
    // Brought back: what came after the kiln no longer holds.
    const back = kinds.includes('sold') && state.stands !== 'sold';
    return { at: back ? undefined : entry?.at_utc, done: !back && (entry !== undefined || passed(state)) };
  });
  const last = done.findLastIndex((stop) => stop.done);
  const lostAfter = state.stands === 'lost' ? last : undefined;
  return h(
    'ol',
    { class: 'life-line', 'aria-label': 'The life of this piece, from the form to the door' },
    h(
      'li',
      { class: 'life-end done' },
      form ? silhouette(form.json, { attitude: 'upright', lean_deg: 0 }) : h('span', { class: 'stop-dot' }),
      h('span', null, 'Form'),
    ),
    STOPS.map(({ name }, i) => {
      const { at, done: isDone } = done[i]!;
      const lost = i === (lostAfter ?? -2) + 1 && state.loss;
      const word = lost ? 'Lost' : name;
      const when = lost ? state.loss?.at_utc : at;
      return h(
        'li',
        {
          key: name,
          class: lost ? 'lost' : isDone ? 'done' : i < last ? 'skipped' : 'ahead',
          'aria-current': i === last && lostAfter === undefined ? 'step' : undefined,
          'data-stop': name,
          'data-done': isDone,
        },
        h('span', { class: 'stop-dot' }),
        h('span', null, word, h('span', { class: 'unseen' }, isDone || lost ? ', done' : ', not yet')),
        when !== undefined && h('small', null, shortDay(when, zone, now_utc)),
      );
    }),
    h(
      'li',
      { class: `life-end ${state.stands === 'sold' ? 'done' : 'ahead'}` },
      door(),
      h('span', null, 'Door'),
    ),
  );
};
