import { h } from 'preact';
import { useState } from 'preact/hooks';
import type { StudioSettings } from '../../../making/record/studio-settings.ts';
import { askRecord, inWords } from '../../state/record/ask.ts';
import { numberTyped } from '../../words.ts';

type Text = 'name' | 'currency' | 'zone' | 'carveFrom_h' | 'carveUntil_h';

const FIELDS: readonly (readonly [Text, string])[] = [
  ['name', 'What the studio is called'],
  ['currency', 'Currency, three letters'],
  ['zone', 'Zone of the clocks'],
  ['carveFrom_h', 'Can be carved from, hours of drying'],
  ['carveUntil_h', 'Too dry to carve from, hours of drying'],
];

/** What the first run asked, and when a wall can be carved: to be changed at any time. */
export const SettingsOfRecord = ({
  settings,
  kept,
}: {
  readonly settings: StudioSettings;
  readonly kept: () => Promise<void>;
}) => {
  const [typed, setTyped] = useState<Partial<Record<Text | 'weights', string>>>({});
  const [said, setSaid] = useState<string | undefined>(undefined);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const type = (key: Text | 'weights', text: string): void => {
    setTyped({ ...typed, [key]: text });
    setSaid(undefined);
  };
  const save = async (): Promise<void> => {
    setTrouble(undefined);
    const change = Object.fromEntries(
      Object.entries(typed).map(([key, text]) => [
        key,
        key.endsWith('_h') ? (numberTyped(text) ?? text) : key === 'currency' ? text.toUpperCase() : text,
      ]),
    );
    try {
      await askRecord('/settings', 'PATCH', change);
      await kept();
      setTyped({});
      setSaid('Kept.');
    } catch (error) {
      setTrouble(inWords(error));
    }
  };
  return h(
    'details',
    { class: 'record-settings' },
    h('summary', null, 'Settings of this record'),
    h(
      'form',
      {
        onSubmit: (event: Event) => {
          event.preventDefault();
          void save();
        },
      },
      FIELDS.map(([key, says]) =>
        h(
          'label',
          { key },
          says,
          h('input', {
            type: 'text',
            value: typed[key] ?? String(settings[key]),
            'data-field': `settings.${key}`,
            onInput: (event: Event) => type(key, (event.target as HTMLInputElement).value),
          }),
        ),
      ),
      h(
        'label',
        null,
        'Weights in',
        h(
          'select',
          {
            value: typed.weights ?? settings.weights,
            'data-field': 'settings.weights',
            onChange: (event: Event) => type('weights', (event.target as HTMLSelectElement).value),
          },
          h('option', { value: 'g' }, 'grams'),
          h('option', { value: 'lb' }, 'pounds'),
        ),
      ),
      h('p', { class: 'hint' }, 'Lengths and temperatures: by the switches at the top.'),
      trouble !== undefined &&
        h('div', { class: 'not-saved', role: 'alert' }, h('b', null, 'Not kept. '), trouble),
      h(
        'div',
        { class: 'row' },
        h('button', { type: 'submit', 'data-do': 'keep-settings' }, 'Keep'),
        h('span', { role: 'status' }, said),
      ),
    ),
  );
};
