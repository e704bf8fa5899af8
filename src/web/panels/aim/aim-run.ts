import { h } from 'preact';
import type { AimDesk, AimKind } from '../../state/aim-desk.ts';
import { inLengths, type Lengths } from '../../words.ts';

interface Props {
  readonly desk: AimDesk;
  readonly kind: AimKind;
  readonly name: string;
  readonly main?: boolean;
  readonly lengths: Lengths;
  readonly begin: () => void;
}

/** A button that sets a long job going, how far it is, and the way to stop it; what went wrong stands under it. */
export const AimRun = ({ desk, kind, name, main, lengths, begin }: Props) => {
  const { running, trouble } = desk.now();
  const own = running?.kind === kind ? running : undefined;
  return h(
    'div',
    { class: 'aim-run' },
    own
      ? [
          h('progress', { key: 'p', max: 1, value: own.fraction, 'aria-label': name }),
          h('button', { key: 'b', type: 'button', 'data-do': `stop-${kind}`, onClick: desk.cancel }, 'Stop'),
          h(
            'p',
            { key: 'n', class: 'hint', role: 'status' },
            `${Math.round(100 * own.fraction)} %${own.note === '' ? '' : `, ${inLengths(own.note, lengths)}`}`,
          ),
        ]
      : h(
          'button',
          {
            type: 'button',
            class: main ? 'main' : '',
            'data-do': kind,
            disabled: running !== undefined,
            onClick: begin,
          },
          name,
        ),
    trouble?.kind === kind &&
      trouble.lines.map((line) =>
        h('p', { key: line, class: 'fault', role: 'alert' }, inLengths(line, lengths)),
      ),
  );
};
