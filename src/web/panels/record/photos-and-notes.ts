import { h } from 'preact';
import { useState } from 'preact/hooks';
import type { Entry } from '../../../making/record/entry.ts';
import type { PieceState } from '../../../making/record/piece-state.ts';
import { standing } from '../../../making/record/standing.ts';
import { newUid } from '../../state/record/ask.ts';
import { sayMoment } from './entry-words.ts';
import { photoButton } from './next-steps.ts';

const photoSource = (sha256: string): string => `/api/record/photos/${sha256}`;

/** The same, small, where one was made; for lists. */
export const smallSource = (sha256: string): string => `${photoSource(sha256)}/small`;

/** Photos of a piece, the newest first. */
export const PhotoWall = ({
  state,
  number,
  take,
}: {
  readonly state: PieceState;
  readonly number: string;
  readonly take: (file: File) => void;
}) =>
  h(
    'section',
    { class: 'photo-wall', 'aria-label': 'Photos' },
    h('div', { class: 'row' }, h('h2', null, 'Photos'), photoButton(take, '', 'Add a photo')),
    state.photos.length === 0 && h('p', { class: 'hint' }, 'No photo yet.'),
    h(
      'div',
      { class: 'photos' },
      state.photos.toReversed().map((sha256, i) =>
        h(
          'a',
          { key: sha256, href: photoSource(sha256), target: '_blank', rel: 'noreferrer' },
          h('img', {
            src: smallSource(sha256),
            loading: 'lazy',
            decoding: 'async',
            alt: `${number}, photo ${state.photos.length - i}${state.photosAfter.includes(sha256) ? ', after the fire' : ', before the fire'}`,
          }),
        ),
      ),
    ),
  );

/** The artist's own words on a piece, and a box for more. */
export const Notes = ({
  entries,
  zone,
  keep,
}: {
  readonly entries: readonly Entry[];
  readonly zone: string;
  /** Throws, in words, where it is not kept. */
  readonly keep: (note: string, frame: { uid: string; at_utc: string }) => Promise<void>;
}) => {
  const [text, setText] = useState('');
  const [frame, setFrame] = useState<{ uid: string; at_utc: string; of: string } | undefined>();
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const notes = standing(entries)
    .filter(({ note }) => note !== '')
    .toReversed();
  const save = async (): Promise<void> => {
    const note = text.trim();
    if (note === '') return;
    const mine = frame?.of === note ? frame : { uid: newUid(), at_utc: new Date().toISOString(), of: note };
    setFrame(mine);
    setTrouble(undefined);
    try {
      await keep(note, { uid: mine.uid, at_utc: mine.at_utc });
      setText('');
    } catch (error) {
      setTrouble(error instanceof Error ? error.message : String(error));
    }
  };
  return h(
    'section',
    { class: 'notes', 'aria-label': 'Notes' },
    h('h2', null, 'Notes'),
    notes.map(({ id, note, at_utc }) =>
      h('blockquote', { key: id }, note, h('small', null, sayMoment(at_utc, zone))),
    ),
    h(
      'form',
      {
        onSubmit: (event: Event) => {
          event.preventDefault();
          void save();
        },
      },
      h(
        'label',
        null,
        'A note, in your own words',
        h('textarea', {
          rows: 2,
          maxLength: 20_000,
          value: text,
          'data-field': 'note',
          onInput: (event: Event) => setText((event.target as HTMLTextAreaElement).value),
        }),
      ),
      trouble !== undefined &&
        h(
          'div',
          { class: 'not-saved', role: 'alert' },
          h('b', null, 'Not recorded. '),
          `${trouble} What you typed is still here.`,
        ),
      h('button', { type: 'submit', 'data-do': 'keep-note' }, 'Keep the note'),
    ),
  );
};
