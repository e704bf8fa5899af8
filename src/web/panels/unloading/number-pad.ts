import { h } from 'preact';

const KEYS = ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', 'wipe'] as const;
type Key = (typeof KEYS)[number] | 'sign' | 'next';

const NAMES: Readonly<Partial<Record<Key, string>>> = {
  wipe: 'Wipe the last figure',
  '.': 'Point',
  sign: 'Plus or minus: it rose',
  next: 'Next measure',
};
const SIGNS: Readonly<Partial<Record<Key, string>>> = { wipe: '⌫', sign: '±', next: 'Next ↓' };

/** What a text becomes by a key; `fresh` text is replaced by the first figure. */
export const typedBy = (key: Key, text: string, fresh: boolean): string => {
  if (key === 'wipe') return fresh ? '' : text.slice(0, -1);
  if (key === 'sign') return text.startsWith('-') ? text.slice(1) : `-${text}`;
  if (key === 'next') return text;
  const before = fresh ? '' : text;
  if (key === '.')
    return before.includes('.') ? before : `${before === '' || before === '-' ? `${before}0` : before}.`;
  return before + key;
};

/** Large keys for wet hands; the keyboard does the same in the fields themselves. */
export const NumberPad = ({
  signed,
  press,
}: {
  readonly signed: boolean;
  readonly press: (key: Key) => void;
}) =>
  h(
    'div',
    { class: 'number-pad', role: 'group', 'aria-label': 'Number pad' },
    [...KEYS, ...(signed ? (['sign'] as const) : []), 'next' as const].map((key) =>
      h(
        'button',
        {
          key,
          type: 'button',
          class: key === 'next' ? 'next' : '',
          'data-key': key,
          'aria-label': NAMES[key] ?? key,
          // The field keeps the focus, so that keys of both kinds may be mixed.
          onPointerDown: (event: Event) => event.preventDefault(),
          onClick: () => press(key),
        },
        SIGNS[key] ?? key,
      ),
    ),
  );
