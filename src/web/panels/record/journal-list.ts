import { h } from 'preact';
import type { Entry } from '../../../making/record/entry.ts';
import { takenBack } from '../../../making/record/standing.ts';
import { entryDetail, KIND_TITLES, type Sayer, sayMoment } from './entry-words.ts';

interface Props {
  readonly entries: readonly Entry[];
  readonly sayer: Sayer;
  readonly zone: string;
  readonly undo: (batch: number) => void;
  readonly correct?: ((entry: Entry) => void) | undefined;
}

/** The step an undo would take back, and the one a redo would bring back. */
export const stepsToUndo = (
  entries: readonly Entry[],
): { readonly undo?: Entry | undefined; readonly redo?: Entry | undefined } => {
  const gone = takenBack(entries);
  const counting = entries.filter(({ id }) => !gone.has(id));
  const undo = counting.filter(({ kind }) => kind !== 'undone' && kind !== 'begun').at(-1);
  // A redo follows only on undos: with anything written since, the way on is another.
  const lastWord = Math.max(0, ...entries.filter(({ kind }) => kind !== 'undone').map(({ id }) => id));
  const takesBackAnUndo = ({ undoes }: Entry): boolean =>
    entries.find(({ id }) => id === undoes)?.kind === 'undone';
  const redo = counting
    .filter((entry) => entry.kind === 'undone' && entry.id > lastWord && !takesBackAnUndo(entry))
    .at(-1);
  return { undo, redo };
};

const titleOf = (entry: Entry | undefined): string => (entry ? KIND_TITLES[entry.kind] : '');

const row = (entry: Entry, gone: boolean, { entries, sayer, zone, undo, correct }: Props) => {
  const { kind, note, undoes } = entry;
  const target = entries.find(({ id }) => id === undoes);
  const title =
    kind === 'undone'
      ? `Taken back: ${titleOf(target)}`
      : target
        ? `${KIND_TITLES[kind]} (corrected)`
        : KIND_TITLES[kind];
  return h(
    'li',
    { key: entry.id, class: gone ? 'gone' : kind === 'undone' ? 'undoing' : '', 'data-entry': kind },
    h(
      'div',
      null,
      h('time', { dateTime: entry.at_utc }, sayMoment(entry.at_utc, zone)),
      h('b', null, title),
      gone && h('i', null, ' no longer counts'),
      h('span', null, entryDetail(entry, sayer)),
      note !== '' && h('q', null, note),
    ),
    !gone &&
      kind !== 'undone' &&
      h(
        'span',
        { class: 'row' },
        correct &&
          kind !== 'photographed' &&
          h(
            'button',
            { type: 'button', 'aria-label': `Correct: ${title}`, onClick: () => correct(entry) },
            'Correct',
          ),
        kind !== 'begun' &&
          h(
            'button',
            { type: 'button', 'aria-label': `Take back: ${title}`, onClick: () => undo(entry.batch) },
            'Take back',
          ),
      ),
  );
};

/** Everything that was written, the last first; nothing is ever rubbed out. */
export const JournalList = (props: Props) => {
  const { entries, undo } = props;
  const gone = takenBack(entries);
  const steps = stepsToUndo(entries);
  return h(
    'section',
    { class: 'journal', 'aria-label': 'Journal' },
    h(
      'div',
      { class: 'row' },
      h('h2', null, 'Journal'),
      h('span', { class: 'spring' }),
      h(
        'button',
        {
          type: 'button',
          disabled: !steps.undo,
          'data-do': 'undo-step',
          onClick: () => steps.undo && undo(steps.undo.batch),
        },
        steps.undo ? `Undo: ${titleOf(steps.undo)}` : 'Undo',
      ),
      h(
        'button',
        {
          type: 'button',
          disabled: !steps.redo,
          'data-do': 'redo-step',
          onClick: () => steps.redo && undo(steps.redo.batch),
        },
        steps.redo ? `Redo: ${titleOf(entries.find(({ id }) => id === steps.redo?.undoes))}` : 'Redo',
      ),
    ),
    h(
      'ol',
      { reversed: true },
      entries.toSorted((a, b) => b.id - a.id).map((entry) => row(entry, gone.has(entry.id), props)),
    ),
  );
};
