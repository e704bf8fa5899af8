import { h } from 'preact';
import type { Foot, Form } from '../../../making/form/form.ts';
import type { Session } from '../../session.ts';
import { workOf } from '../../state/page.ts';
import { NumberBox } from '../number-box.ts';

const thicknessOf = (foot: Foot): number => (foot.kind === 'none' ? 5 : foot.thickness_mm);

const FEET: Readonly<Record<Foot['kind'], readonly [name: string, make: (old: Foot) => Foot]>> = {
  disc: ['flat floor', (old) => ({ kind: 'disc', thickness_mm: thicknessOf(old) })],
  ring: [
    'turned ring',
    (old) => ({ kind: 'ring', thickness_mm: thicknessOf(old), width_mm: 6, recess_mm: 4 }),
  ],
  none: ['none, a tube', () => ({ kind: 'none' })],
};

const footRow = (session: Session, foot: Foot) =>
  h(
    'div',
    { class: 'row' },
    h(
      'label',
      { class: 'choice' },
      h('span', { class: 'name' }, 'Foot'),
      h(
        'select',
        {
          value: foot.kind,
          'data-field': 'form.foot.kind',
          onChange: (event: Event) =>
            session.edit(
              ['form', 'foot'],
              FEET[(event.target as HTMLSelectElement).value as Foot['kind']][1](foot),
            ),
        },
        Object.entries(FEET).map(([kind, [name]]) => h('option', { key: kind, value: kind }, name)),
      ),
    ),
    foot.kind !== 'none' &&
      h(NumberBox, {
        session,
        path: ['form', 'foot', 'thickness_mm'],
        label: 'Floor',
        unit: 'mm',
        step: 0.5,
      }),
    foot.kind === 'ring' && [
      h(NumberBox, {
        key: 'w',
        session,
        path: ['form', 'foot', 'width_mm'],
        label: 'Ring',
        unit: 'mm',
        step: 0.5,
      }),
      h(NumberBox, {
        key: 'r',
        session,
        path: ['form', 'foot', 'recess_mm'],
        label: 'Recess',
        unit: 'mm',
        step: 0.5,
      }),
    ],
  );

const lipRow = (session: Session, form: Form) =>
  h(
    'div',
    { class: 'row' },
    h(
      'label',
      { class: 'choice' },
      h('span', { class: 'name' }, 'Lip'),
      h(
        'select',
        {
          value: form.lip ? 'own' : 'wall',
          'data-field': 'form.lip',
          onChange: (event: Event) =>
            session.edit(
              ['form', 'lip'],
              (event.target as HTMLSelectElement).value === 'own'
                ? { thickness_mm: 2, over_mm: 6 }
                : undefined,
            ),
        },
        h('option', { value: 'wall' }, 'as the wall'),
        h('option', { value: 'own' }, 'of its own'),
      ),
    ),
    form.lip && [
      h(NumberBox, {
        key: 't',
        session,
        path: ['form', 'lip', 'thickness_mm'],
        label: 'Thick',
        unit: 'mm',
        step: 0.1,
      }),
      h(NumberBox, {
        key: 'o',
        session,
        path: ['form', 'lip', 'over_mm'],
        label: 'Over',
        unit: 'mm',
        step: 1,
      }),
    ],
  );

/** What the drawn sizes mean, and the two ends of the line. */
export const Ends = ({ session }: { readonly session: Session }) => {
  const { form } = workOf(session.page());
  return h(
    'div',
    { class: 'ends' },
    h(
      'div',
      { class: 'row', role: 'group', 'aria-label': 'The sizes drawn here are' },
      h('span', { class: 'name' }, 'Sizes drawn are'),
      (['thrown', 'fired'] as const).map((sizes) =>
        h(
          'button',
          {
            key: sizes,
            type: 'button',
            class: 'tick',
            'aria-pressed': form.sizes === sizes,
            'data-field': `form.sizes.${sizes}`,
            onClick: () => session.edit(['form', 'sizes'], sizes),
          },
          sizes === 'thrown' ? 'as thrown, wet' : 'as wanted after the fire',
        ),
      ),
    ),
    footRow(session, form.foot),
    lipRow(session, form),
  );
};
