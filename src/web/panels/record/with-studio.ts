import { type ComponentChild, h } from 'preact';
import { answerWasOld } from '../../share/ask.ts';
import { type Studio, useStudio } from '../../state/record/ask.ts';

/** A room of the record once settings and forms are there; before, or without a record, what is the matter. */
export const withStudio = (
  room: (studio: Studio, again: () => Promise<void>) => ComponentChild,
): ComponentChild => {
  const { value, trouble, again } = useStudio();
  if (value)
    return [
      answerWasOld() &&
        h(
          'p',
          { key: 'old', class: 'invented-note', role: 'status' },
          'The laptop does not answer: this is as it was seen last. What you type stays here; record it when the laptop answers again.',
        ),
      value.settings.invented &&
        h(
          'p',
          { key: 'invented', class: 'invented-note' },
          'Invented: every piece, firing and sale in this record is made up, to try things out. A record of your own: ',
          h('code', null, 'afterfire serve --record my-studio.sqlite'),
        ),
      h('div', { key: 'room' }, room(value, again)),
    ];
  return h(
    'main',
    { class: 'room' },
    h('h1', null, 'The record'),
    trouble === undefined
      ? h('p', { class: 'hint', role: 'status' }, 'One moment…')
      : h('p', { class: 'no-record', role: 'status' }, trouble),
  );
};
