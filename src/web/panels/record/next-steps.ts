import { h } from 'preact';
import { useState } from 'preact/hooks';
import type { Entry } from '../../../making/record/entry.ts';
import type { KindName } from '../../../making/record/kinds.ts';
import { likelyKinds, possibleKinds } from '../../../making/record/next-kinds.ts';
import { standing } from '../../../making/record/standing.ts';
import type { PieceTold } from '../../state/record/answers.ts';
import { KIND_TITLES } from './entry-words.ts';

/** What the kiln's own page is for, while the piece is in it. */
const firingStep = ({ piece, firings }: PieceTold) => {
  const { stage, firing } = piece.state;
  const row = firings.find(({ id }) => id === firing);
  if (!row || (stage !== 'set' && stage !== 'fired')) return null;
  const next = { planned: 'start the kiln', lit: 'switch off', off: 'open the kiln' }[
    row.state.stage as string
  ];
  if (!next) return null;
  return h(
    'a',
    { class: 'button big main', href: `#firing/${row.id}`, 'data-do': 'firing' },
    `${row.state.name ?? 'Firing'}: ${next}`,
  );
};

export const photoButton = (take: (file: File) => void, className: string, words: string) =>
  h(
    'label',
    { class: `button ${className}` },
    words,
    h('input', {
      type: 'file',
      accept: 'image/jpeg,image/png,image/webp',
      class: 'unseen',
      'aria-label': words,
      'data-field': 'photo',
      onChange: (event: Event) => {
        const input = event.target as HTMLInputElement;
        const file = input.files?.[0];
        input.value = '';
        if (file) take(file);
      },
    }),
  );

/** Lost, a note and a photo stand by themselves, for they can be at any time. */
const APART: readonly KindName[] = ['noted', 'photographed', 'lost'];

/** The usual next event as a big button, everything else one tap further. */
export const NextSteps = ({
  told,
  choose,
  photo,
}: {
  readonly told: PieceTold;
  readonly choose: (kind: KindName) => void;
  readonly photo: (file: File) => void;
}) => {
  const [all, setAll] = useState(false);
  const { state } = told.piece;
  const done = new Set(standing(told.entries as Entry[]).map(({ kind }) => kind));
  const firing = told.firings.find(({ id }) => id === state.firing)?.state.stage;
  // Out of a kiln that is not off yet: the firing comes first.
  const likely = likelyKinds(state, done).filter((kind) => kind !== 'unloaded' || firing !== 'lit');
  const possible = possibleKinds(state);
  const rest = possible.filter((kind) => !likely.includes(kind) && !APART.includes(kind) && kind !== 'fired');
  const button = (kind: KindName, i: number, big: boolean) =>
    kind === 'photographed'
      ? h('span', { key: kind, class: 'row' }, photoButton(photo, big ? 'big' : '', 'Take a photo'))
      : h(
          'button',
          {
            key: kind,
            type: 'button',
            class: big ? `big${i === 0 ? ' main' : ''}` : '',
            'data-kind': kind,
            onClick: () => choose(kind),
          },
          KIND_TITLES[kind],
        );
  return h(
    'section',
    { class: 'next-steps', 'aria-label': 'What happened' },
    h('h2', null, 'What happened?'),
    h(
      'div',
      { class: 'big-steps' },
      firingStep(told),
      likely.map((kind, i) => button(kind, i, true)),
      possible.includes('lost') && button('lost', -1, true),
    ),
    rest.length > 0 &&
      h(
        'button',
        {
          type: 'button',
          class: 'tick',
          'aria-expanded': all,
          'data-do': 'more',
          onClick: () => setAll(!all),
        },
        'Something else',
      ),
    all &&
      h(
        'div',
        { class: 'row other-steps' },
        rest.map((kind) => button(kind, -1, false)),
      ),
  );
};
