import { h } from 'preact';
import { useState } from 'preact/hooks';
import { askServer } from './ask.ts';

/** The code stands in the address after #join=, where a scanned picture puts it. */
const codeIn = (hash: string): string => /^#join=([A-Za-z0-9-]{4,20})$/.exec(hash)?.[1] ?? '';

/** What a device sees that has not been let in yet. */
export const JoinPage = ({ hash, joined }: { readonly hash: string; readonly joined: () => void }) => {
  const [code, setCode] = useState(codeIn(hash));
  const [name, setName] = useState('');
  const [wrong, setWrong] = useState<string>();
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    try {
      await askServer('/api/join', 'POST', { code, name });
      joined();
    } catch (error) {
      setWrong(error instanceof Error ? error.message : String(error));
    }
  };
  const typed = (take: (value: string) => void) => (event: Event) =>
    take((event.target as HTMLInputElement).value);
  return h(
    'main',
    { class: 'room join' },
    h('h1', null, 'Come into the studio'),
    h(
      'p',
      null,
      'The laptop shows a code under Other devices. It is good for five minutes and for one device.',
    ),
    h(
      'form',
      { onSubmit: (event: Event) => void send(event) },
      h(
        'label',
        null,
        'Code on the laptop',
        h('input', {
          value: code,
          required: true,
          autocomplete: 'off',
          autocapitalize: 'characters',
          spellcheck: false,
          onInput: typed(setCode),
          'data-field': 'join.code',
        }),
      ),
      h(
        'label',
        null,
        'Call this device',
        h('input', {
          value: name,
          required: true,
          maxlength: 40,
          placeholder: 'kiln room tablet',
          onInput: typed(setName),
          'data-field': 'join.name',
        }),
      ),
      h('button', { class: 'main', type: 'submit' }, 'Come in'),
    ),
    wrong !== undefined && h('p', { role: 'alert', class: 'wrong' }, wrong),
  );
};
