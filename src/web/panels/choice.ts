import { h } from 'preact';

/** One of a few, with its label over the box. */
export const choice = (
  label: string,
  field: string,
  value: string,
  names: readonly (readonly [value: string, name: string])[],
  choose: (value: string) => void,
  look = 'choice over',
) =>
  h(
    'label',
    { class: look },
    h('span', { class: 'name' }, label),
    h(
      'select',
      {
        value,
        'data-field': field,
        onChange: (event: Event) => choose((event.target as HTMLSelectElement).value),
      },
      names.map(([key, name]) => h('option', { key, value: key }, name)),
    ),
  );

/** Yes or no. */
export const tick = (label: string, field: string, on: boolean, choose: (on: boolean) => void) =>
  h(
    'button',
    { type: 'button', class: 'tick', 'aria-pressed': on, 'data-field': field, onClick: () => choose(!on) },
    label,
  );
