import { h } from 'preact';
import { type Desk, learnedFrom, logOf } from '../../state/learning.ts';
import { type DraftUnloading, isTouched, unloadingOf } from '../../state/unloading-draft.ts';
import { saveText } from '../save.ts';

interface Props {
  readonly desk: Desk;
  readonly draft: DraftUnloading;
  readonly kept: string | undefined;
  readonly faults: readonly string[];
  readonly learn: () => void;
}

const save = (draft: DraftUnloading): void => {
  const slug = draft.kiln.toLowerCase().replace(/[^a-z0-9]+/g, '-');
  saveText(
    `${JSON.stringify(unloadingOf(draft), null, 2)}\n`,
    `${draft.date}-${slug || 'kiln'}.unloading.json`,
  );
};

const running = (desk: Desk) => {
  const now = desk.now().running;
  return (
    now && [
      h('progress', { key: 'p', max: 1, value: now.fraction, 'aria-label': 'Learning' }),
      h('p', { key: 'n', class: 'hint', role: 'status' }, `${Math.round(100 * now.fraction)} % ${now.note}`),
      h('button', { key: 'b', type: 'button', 'data-do': 'cancel-learning', onClick: desk.cancel }, 'Stop'),
    ]
  );
};

const whyNot = ({ draft, kept }: Props): string | undefined => {
  if (kept !== undefined) return undefined;
  if (draft.kiln.trim() === '') return 'Name the kiln first.';
  return isTouched(draft) ? undefined : 'Measure something on a piece, or say that one was lost.';
};

/** The one button that matters, how far it is, and what went wrong. */
export const LearnBox = (props: Props) => {
  const { desk, draft, kept, faults, learn } = props;
  const { trouble } = desk.now();
  const done = kept !== undefined && learnedFrom(logOf(desk, draft.clay), kept) !== undefined;
  const why = whyNot(props);
  return h(
    'section',
    { class: 'learn-box', 'aria-label': 'Learn from this' },
    running(desk) ?? [
      done
        ? h(
            'p',
            { key: 'd', 'data-said': 'learned' },
            'Learned from. It can be taken back below, and stays listed.',
          )
        : h(
            'button',
            {
              key: 'l',
              type: 'button',
              class: 'main',
              'data-do': 'learn',
              disabled: why !== undefined,
              onClick: learn,
            },
            kept === undefined ? 'Keep and learn from this' : 'Learn from this',
          ),
      why !== undefined && h('p', { key: 'w', class: 'hint' }, why),
      (kept !== undefined || why === undefined) &&
        h(
          'button',
          { key: 's', type: 'button', 'data-do': 'save-unloading', onClick: () => save(draft) },
          'Save as a file',
        ),
    ],
    faults.map((text) => h('p', { key: text, class: 'fault', role: 'alert' }, text)),
    trouble !== undefined && h('p', { class: 'fault', role: 'alert' }, trouble),
  );
};
