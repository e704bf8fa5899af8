import { h } from 'preact';
import type { Alteration } from '../../making/form/alterations/table.ts';
import type { Session } from '../session.ts';
import { workOf } from '../state/page.ts';
import { ALTERATIONS, type FieldRow } from './alteration-fields.ts';
import { dustCaution } from './cautions.ts';
import { NumberBox } from './number-box.ts';

const kinds = Object.keys(ALTERATIONS) as Alteration['kind'][];

const moved = <T>(list: readonly T[], from: number, to: number): T[] => {
  const rest = list.toSpliced(from, 1);
  return rest.toSpliced(to, 0, list[from]!);
};

const fieldsOf = (session: Session, i: number, rows: readonly FieldRow[]) =>
  rows.map((row) => {
    const path = ['form', 'alterations', i, ...row.path];
    return row.choices
      ? h(
          'label',
          { key: row.label, class: 'choice' },
          h('span', { class: 'name' }, row.label),
          h(
            'select',
            {
              value: row.choices.of(workOf(session.page()).form.alterations[i]!),
              onChange: (event: Event) => session.edit(path, (event.target as HTMLSelectElement).value),
            },
            row.choices.names.map((name) => h('option', { key: name, value: name }, name)),
          ),
        )
      : h(NumberBox, { ...row, key: row.label, session, path });
  });

const depthRows = (alteration: Alteration): readonly FieldRow[] =>
  alteration.kind !== 'lobes'
    ? []
    : alteration.depth.flatMap((_, k): FieldRow[] => [
        {
          path: ['depth', k, 'depth_mm'],
          label: alteration.depth.length === 1 ? 'Depth' : `Depth ${k + 1}`,
          unit: 'mm',
          step: 0.5,
        },
        { path: ['depth', k, 'along'], label: 'at', unit: '% up', step: 1, times: 100 },
      ]);

const card = (session: Session, alteration: Alteration, i: number, count: number) => {
  const { name, rows } = ALTERATIONS[alteration.kind];
  const put = (alterations: readonly Alteration[]): void => {
    session.edit(['form', 'alterations'], alterations);
  };
  const all = workOf(session.page()).form.alterations;
  return h(
    'li',
    { key: i, class: 'card', 'data-alteration': alteration.kind },
    h(
      'div',
      { class: 'row head' },
      h('b', null, `${i + 1}. ${name}`),
      h('span', { class: 'spring' }),
      h(
        'button',
        {
          type: 'button',
          disabled: i === 0,
          'aria-label': `${name}: do it earlier`,
          onClick: () => put(moved(all, i, i - 1)),
        },
        '↑',
      ),
      h(
        'button',
        {
          type: 'button',
          disabled: i === count - 1,
          'aria-label': `${name}: do it later`,
          onClick: () => put(moved(all, i, i + 1)),
        },
        '↓',
      ),
      h(
        'button',
        { type: 'button', 'aria-label': `${name}: take it away`, onClick: () => put(all.toSpliced(i, 1)) },
        '×',
      ),
    ),
    h('div', { class: 'fields' }, fieldsOf(session, i, [...rows, ...depthRows(alteration)])),
    alteration.kind === 'lobes' &&
      h(
        'div',
        { class: 'row' },
        h(
          'button',
          {
            type: 'button',
            onClick: () => {
              const last = alteration.depth.at(-1)!;
              const next = { along: Math.round(50 * (last.along + 1)) / 100, depth_mm: last.depth_mm };
              session.edit(
                ['form', 'alterations', i, 'depth'],
                [...alteration.depth, last.along < 0.99 ? next : { ...next, along: 1 }],
              );
            },
          },
          'Another depth, higher up',
        ),
        alteration.depth.length > 1 &&
          h(
            'button',
            {
              type: 'button',
              onClick: () => session.edit(['form', 'alterations', i, 'depth'], alteration.depth.slice(0, -1)),
            },
            'One less',
          ),
      ),
  );
};

/** Offered only to be set by hand: nobody can say beforehand by how much. */
const untwist = (session: Session) => {
  const set = workOf(session.page()).form.untwist_deg !== undefined;
  return h(
    'div',
    { class: 'untwist' },
    h(
      'button',
      {
        type: 'button',
        class: 'tick',
        'aria-pressed': set,
        'data-field': 'form.untwist',
        onClick: () => session.edit(['form', 'untwist_deg'], set ? undefined : 0),
      },
      'It turns back in the fire',
    ),
    set &&
      h(NumberBox, {
        session,
        path: ['form', 'untwist_deg'],
        label: 'Lip against foot',
        unit: '°',
        step: 1,
        places: 0,
      }),
    set && h('p', { class: 'hint' }, 'As your own pieces show it: there is no usual figure.'),
  );
};

/** What the hands do to the round piece, in order: one card each. */
export const AlterationCards = ({ session }: { readonly session: Session }) => {
  const { alterations } = workOf(session.page()).form;
  return h(
    'div',
    { class: 'cards' },
    alterations.length === 0 && h('p', { class: 'hint' }, 'Round as thrown. Add what your hands do next.'),
    h(
      'ol',
      null,
      alterations.map((a, i) => card(session, a, i, alterations.length)),
    ),
    h(
      'div',
      { class: 'row adders', role: 'group', 'aria-label': 'Add an alteration' },
      kinds.map((kind) =>
        h(
          'button',
          {
            key: kind,
            type: 'button',
            'data-add': kind,
            onClick: () => session.edit(['form', 'alterations'], [...alterations, ALTERATIONS[kind].make()]),
          },
          `+ ${ALTERATIONS[kind].name}`,
        ),
      ),
    ),
    untwist(session),
    dustCaution(),
  );
};
