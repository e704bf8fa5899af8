import { h } from 'preact';
import { clayValues } from '../../making/clay/provenance.ts';
import type { Session } from '../session.ts';
import { workOf } from '../state/page.ts';
import { dustCaution } from './cautions.ts';

/** What the clay is taken to do, and how each value is known. */
export const ClayPanel = ({ session }: { readonly session: Session }) => {
  const { clay } = workOf(session.page());
  const { clays } = session.page().studio;
  const key = Object.keys(clays).find((k) => clays[k]!.name === clay.name);
  return h(
    'div',
    { class: 'clay-panel' },
    h(
      'label',
      { class: 'choice' },
      h('span', { class: 'name' }, 'Clay'),
      h(
        'select',
        {
          value: key ?? '',
          onChange: (event: Event) => {
            const chosen = clays[(event.target as HTMLSelectElement).value];
            if (chosen) session.replace({ ...workOf(session.page()), clay: chosen });
          },
        },
        key === undefined && h('option', { value: '' }, clay.name),
        Object.entries(clays).map(([k, c]) => h('option', { key: k, value: k }, c.name)),
      ),
    ),
    clay.note && h('p', { class: 'hint' }, clay.note),
    h(
      'dl',
      null,
      clayValues(clay).map(({ name, value, how, from }) => [
        h('dt', { key: name }, name),
        h('dd', { key: `${name}=`, class: how }, h('b', null, value), h('small', null, from)),
      ]),
    ),
    dustCaution(),
  );
};
