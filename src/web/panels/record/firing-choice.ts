import { h } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Firing } from '../../state/record/answers.ts';
import { useAsked } from '../../state/record/ask.ts';
import { Tiles } from '../unloading/tiles.ts';

/** The name after that of the last firing, counted on: `Firing 9` → `Firing 10`. */
export const nextName = (firings: readonly Firing[]): string => {
  const counted = firings
    .map(({ state }) => /^(.*?)(\d{1,9})\s*$/.exec(state.name ?? ''))
    .find((match) => match !== null);
  return counted ? `${counted[1]}${Number(counted[2]) + 1}` : `Firing ${firings.length + 1}`;
};

/** Which firing a piece is set in: one that is planned, or a new one. */
export const FiringChoice = ({
  planned,
  values,
  type,
}: {
  readonly planned: readonly Firing[];
  readonly values: Readonly<Record<string, string>>;
  readonly type: (name: string, text: string) => void;
}) => {
  const all = useAsked<{ firings: readonly Firing[] }>('/firings').value?.firings;
  const isNew = values.firing === 'new';
  useEffect(() => {
    if (all && isNew && values.firingName === undefined) type('firingName', nextName(all));
  }, [all, isNew]);
  return h(
    'div',
    { class: 'entry-field' },
    h('span', { class: 'label' }, 'In which firing'),
    h(Tiles, {
      label: 'In which firing',
      field: 'entry.firing',
      chosen: values.firing,
      tiles: [
        ...planned.map(({ id, state }) => ({ key: String(id), name: state.name ?? `Firing ${id}` })),
        { key: 'new', name: 'A new firing' },
      ],
      choose: (key) => type('firing', key),
    }),
    isNew &&
      h(
        'label',
        null,
        'What the new firing is called',
        h('input', {
          type: 'text',
          maxLength: 60,
          value: values.firingName ?? '',
          'data-field': 'entry.firingName',
          onInput: (event: Event) => type('firingName', (event.target as HTMLInputElement).value),
        }),
      ),
  );
};
