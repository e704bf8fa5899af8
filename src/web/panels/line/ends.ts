import { h } from 'preact';
import type { Foot, Form } from '../../../making/form/form.ts';
import type { Session } from '../../session.ts';
import type { Path } from '../../state/at.ts';
import { workOf } from '../../state/page.ts';
import { choice } from '../choice.ts';
import { NumberBox } from '../number-box.ts';

const thicknessOf = (foot: Foot): number => (foot.kind === 'none' ? 5 : foot.thickness_mm);

const FEET: Readonly<Record<Foot['kind'], readonly [name: string, make: (old: Foot) => Foot]>> = {
  disc: ['flat', (old) => ({ kind: 'disc', thickness_mm: thicknessOf(old) })],
  ring: [
    'turned ring',
    (old) => ({ kind: 'ring', thickness_mm: thicknessOf(old), width_mm: 6, recess_mm: 4 }),
  ],
  none: ['none: a tube', () => ({ kind: 'none' })],
};

const mm = (session: Session, path: Path, label: string, step: number) =>
  h(NumberBox, { key: label, session, path, label, unit: 'mm', step, over: true });

const footRow = (session: Session, foot: Foot) => [
  choice(
    'Foot',
    'form.foot.kind',
    foot.kind,
    Object.entries(FEET).map(([kind, [name]]) => [kind, name]),
    (kind) => session.edit(['form', 'foot'], FEET[kind as Foot['kind']][1](foot)),
  ),
  foot.kind !== 'none' && mm(session, ['form', 'foot', 'thickness_mm'], 'Floor', 0.5),
  foot.kind === 'ring' && mm(session, ['form', 'foot', 'width_mm'], 'Ring', 0.5),
  foot.kind === 'ring' && mm(session, ['form', 'foot', 'recess_mm'], 'Recess', 0.5),
];

const lipRow = (session: Session, { lip }: Form) => [
  choice(
    'Lip',
    'form.lip',
    lip ? 'own' : 'wall',
    [
      ['wall', 'as the wall'],
      ['own', 'thinned to'],
    ],
    (way) => session.edit(['form', 'lip'], way === 'own' ? { thickness_mm: 2, over_mm: 6 } : undefined),
  ),
  lip && mm(session, ['form', 'lip', 'thickness_mm'], 'Thick', 0.1),
  lip && mm(session, ['form', 'lip', 'over_mm'], 'Over', 1),
];

/** What the drawn sizes mean, and the two ends of the line. */
export const Ends = ({ session }: { readonly session: Session }) => {
  const { form } = workOf(session.page());
  return h(
    'div',
    { class: 'ends' },
    h(
      'div',
      { class: 'sizes', role: 'group', 'aria-label': 'The sizes drawn here are' },
      h('span', { class: 'name' }, 'Drawn'),
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
          sizes === 'thrown' ? 'as thrown, wet' : 'as wanted, fired',
        ),
      ),
    ),
    h('div', { class: 'end' }, footRow(session, form.foot)),
    h('div', { class: 'end' }, lipRow(session, form)),
  );
};
