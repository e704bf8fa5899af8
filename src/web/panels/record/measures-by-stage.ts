import { h } from 'preact';
import { CLAY_STATES } from '../../../making/record/kinds.ts';
import type { PieceState, Sizes } from '../../../making/record/piece-state.ts';
import { amountText, type Units } from '../../state/record/amount.ts';

const ROWS: readonly (readonly [keyof Sizes, string])[] = [
  ['height_mm', 'Height'],
  ['widest_mm', 'Greatest width'],
  ['lip_mm', 'Lip'],
  ['foot_mm', 'Foot'],
  ['wall_mm', 'Wall'],
  ['sag_mm', 'Sag of the lip'],
];

/** Weights and sizes, stage beside stage. */
export const MeasuresByStage = ({ state, units }: { readonly state: PieceState; readonly units: Units }) => {
  const { weights_g, sizes, clayTaken_g, hours, doubts } = state;
  const columns = CLAY_STATES.filter((clay) => weights_g[clay] !== undefined || sizes[clay] !== undefined);
  const rows = ROWS.filter(([key]) => columns.some((clay) => sizes[clay]?.[key] !== undefined));
  const cell = (key: string, field: string, value: number | undefined) =>
    h('td', { key }, value === undefined ? '' : amountText(field, value, units));
  return h(
    'section',
    { class: 'by-stage', 'aria-label': 'Measured' },
    h('h2', null, 'Measured'),
    columns.length === 0
      ? h('p', { class: 'hint' }, 'Nothing was weighed or measured yet.')
      : h(
          'table',
          null,
          h(
            'thead',
            null,
            h(
              'tr',
              null,
              h('td', null),
              columns.map((clay) => h('th', { key: clay, scope: 'col' }, clay)),
            ),
          ),
          h(
            'tbody',
            null,
            columns.some((clay) => weights_g[clay] !== undefined) &&
              h(
                'tr',
                null,
                h('th', { scope: 'row' }, 'Weight'),
                columns.map((clay) => cell(clay, 'weight_g', weights_g[clay])),
              ),
            rows.map(([key, name]) =>
              h(
                'tr',
                { key },
                h('th', { scope: 'row' }, name),
                columns.map((clay) => cell(clay, key, sizes[clay]?.[key])),
              ),
            ),
          ),
        ),
    (clayTaken_g !== undefined || hours > 0) &&
      h(
        'p',
        { class: 'hint' },
        [
          clayTaken_g === undefined ? [] : `Clay taken ${amountText('clay_g', clayTaken_g, units)}`,
          hours > 0 ? `${amountText('hours', hours, units)} of work` : [],
        ]
          .flat()
          .join('; '),
      ),
    doubts.map((doubt) => h('p', { key: doubt, class: 'fault' }, doubt)),
  );
};
