import { type ComponentChild, h } from 'preact';
import type { Fault } from '../../../error.ts';
import { DIRECTIONS } from '../../../making/clay/test-pieces/shrinkage-bars.ts';
import {
  type DraftPiece,
  type DraftSag,
  type DraftShrinkage,
  type Group,
  missing,
  nextName,
} from '../../state/test-pieces-draft.ts';
import type { TestsDesk } from '../../state/tests-desk.ts';
import type { Lengths } from '../../words.ts';
import { MeasureBox, pick, textBox } from './measure-box.ts';

type Rows = { sagBars: DraftSag; shrinkageBars: DraftShrinkage; absorption: DraftPiece };

interface RowKit<G extends Group> {
  readonly row: Rows[G];
  readonly desk: TestsDesk;
  readonly lengths: Lengths;
  readonly field: (name: string) => string;
  readonly fault: (name: string) => Fault | undefined;
  readonly change: (part: Partial<Rows[G]>) => void;
}

/** A box for a number of a row. */
const boxIn =
  <G extends Group>({ row, lengths, field, fault, change }: RowKit<G>) =>
  (name: keyof Rows[G] & string, label: string, unit: 'mm' | 'g', usual?: number) =>
    h(MeasureBox, {
      key: name,
      label,
      unit,
      field: field(name),
      value: row[name] as number | undefined,
      lengths,
      fault: fault(name),
      usual,
      change: (value) => change({ [name]: value } as Partial<Rows[G]>),
    });

const firingPick = <G extends Group>({ row, desk, field, change }: RowKit<G>) =>
  pick(
    'Firing',
    field('firing'),
    row.firing ?? '',
    desk.now().draft.firings.map((f) => [f.name, f.name] as const),
    (firing) => change({ firing } as Partial<Rows[G]>),
  );

const ENDS = [
  ['free', 'hung free'],
  ['touched the shelf', 'came down on the shelf'],
  ['slid in between', 'slid in between'],
] as const;

const sagRow = (kit: RowKit<'sagBars'>) => {
  const { row, field, change } = kit;
  const box = boxIn<'sagBars'>(kit);
  const free = (row.end ?? 'free') === 'free';
  // Wet, dry and fired sizes differ by a seventh: each says which it is, as on the printed sheet.
  const then = row.measured === 'bone dry' ? 'dry' : 'fired';
  return [
    firingPick(kit),
    box('span_mm', 'Span', 'mm'),
    box('length_mm', `Length ${then}`, 'mm'),
    box('thickness_mm', `Thickness ${then}`, 'mm'),
    free && box('sag_mm', 'Sag', 'mm'),
    pick('Found', field('end'), row.end ?? 'free', ENDS, (end) => change({ end: end as DraftSag['end'] })),
    row.end === 'touched the shelf' && box('supportHeight_mm', 'Edges above shelf', 'mm'),
    h(
      'details',
      { key: 'more' },
      h('summary', null, 'More, and how sure'),
      h(
        'div',
        { class: 'boxes' },
        box('width_mm', 'Width', 'mm'),
        row.end !== 'touched the shelf' && box('supportHeight_mm', 'Edges above shelf', 'mm'),
        box('spanPlusMinus_mm', 'Span ±', 'mm', 0.5),
        box('thicknessPlusMinus_mm', 'Thickness ±', 'mm', 0.1),
        box('sagPlusMinus_mm', 'Sag ±', 'mm', 0.2),
      ),
      h(
        'p',
        { class: 'hint' },
        'Four readings in five are no further off; what stands grey is a guess of a careful hand.',
      ),
    ),
  ];
};

const shrinkageRow = (kit: RowKit<'shrinkageBars'>) => {
  const { row, field, change } = kit;
  const box = boxIn<'shrinkageBars'>(kit);
  return [
    pick(
      'Marks run',
      field('direction'),
      row.direction ?? 'along',
      DIRECTIONS.map((d) => [d, d] as const),
      (direction) => change({ direction: direction as DraftShrinkage['direction'] }),
    ),
    box('wet_mm', 'Wet', 'mm'),
    box('dry_mm', 'Bone dry', 'mm'),
    box('fired_mm', 'Fired', 'mm'),
  ];
};

const absorptionRow = (kit: RowKit<'absorption'>) => {
  const box = boxIn<'absorption'>(kit);
  return [
    box('dry_g', 'Dry', 'g'),
    box('soaked_g', 'Soaked', 'g'),
    box('hanging_g', 'Hanging in water', 'g'),
  ];
};

const GROUPS: {
  readonly [G in Group]: {
    readonly title: string;
    readonly add: string;
    readonly first: string;
    readonly fields: (kit: RowKit<G>) => ComponentChild;
  };
} = {
  sagBars: { title: 'Sag bars', add: 'Add a sag bar', first: 'A', fields: sagRow },
  shrinkageBars: { title: 'Shrinkage bars', add: 'Add a shrinkage bar', first: 'S', fields: shrinkageRow },
  absorption: { title: 'Weighed pieces', add: 'Add a weighed piece', first: 'W', fields: absorptionRow },
};

const away = (desk: TestsDesk, group: Group, at: number, name: string) =>
  h(
    'button',
    {
      type: 'button',
      class: 'away',
      'aria-label': `Take ${name} away`,
      onClick: () => desk.change({ [group]: desk.now().draft[group].filter((_, i) => i !== at) }),
    },
    '×',
  );

const leaveOut = (desk: TestsDesk, name: string) => {
  const { draft } = desk.now();
  const out = draft.leaveOut.includes(name);
  return h(
    'button',
    {
      key: 'out',
      type: 'button',
      'data-do': out ? 'count' : 'leave-out',
      onClick: () =>
        desk.change({ leaveOut: out ? draft.leaveOut.filter((n) => n !== name) : [...draft.leaveOut, name] }),
    },
    out ? 'Count it again' : 'Leave it out',
  );
};

interface Props<G extends Group> {
  readonly desk: TestsDesk;
  readonly group: G;
  readonly lengths: Lengths;
}

/** The pieces of one kind: name, firing and what was measured, in large boxes. */
export const PieceRows = <G extends Group>({ desk, group, lengths }: Props<G>) => {
  const { title, add, first, fields } = GROUPS[group];
  const { draft, faults, told } = desk.now();
  const rows = draft[group] as readonly Rows[G][];
  const set = (next: readonly unknown[]): void => desk.change({ [group]: next });
  const accused = (name: string): string | undefined =>
    told?.finding.contradictions.find(
      (c) => c.startsWith(`Bar ${name} `) || c.startsWith(`Bar ${name}:`) || c.startsWith(`Piece ${name}`),
    );
  return h(
    'section',
    { class: 'test-group', 'aria-label': title },
    h('h2', null, title),
    h(
      'ul',
      { class: 'test-cards' },
      rows.map((row, at) => {
        const field = (name: string): string => `${group}[${at}].${name}`;
        const change = (part: Partial<Rows[G]>): void => {
          const next = Object.fromEntries(
            Object.entries({ ...row, ...part }).filter(([, v]) => v !== undefined),
          );
          set(rows.map((r, i) => (i === at ? next : r)));
        };
        const kit: RowKit<G> = { row, desk, lengths, field, fault: (name) => faults[field(name)], change };
        const still = (missing[group] as (r: Rows[G]) => string[])(row);
        const out = group === 'sagBars' && draft.leaveOut.includes(row.name);
        const wrong = accused(row.name);
        const whole = faults[`${group}[${at}]`];
        return h(
          'li',
          {
            key: at,
            class: `test-card${wrong === undefined ? '' : ' accused'}${out ? ' out' : ''}`,
            'data-piece': row.name,
          },
          h(
            'div',
            { class: 'boxes' },
            textBox(
              'Name',
              field('name'),
              row.name,
              (name) => name !== '' && change({ name } as Partial<Rows[G]>),
              faults[field('name')],
              true,
            ),
            fields(kit),
          ),
          whole &&
            h('p', { class: 'fault', role: 'alert' }, `${whole.value} will not do: ${whole.expected}.`),
          still.length > 0 && h('p', { class: 'hint' }, `Still to measure: ${still.join(', ')}.`),
          wrong !== undefined && h('p', { class: 'fault', 'data-accused': row.name }, wrong),
          out && h('p', { class: 'hint' }, 'Left out: it is read and does not count.'),
          group === 'sagBars' && (wrong !== undefined || out) && leaveOut(desk, row.name),
          away(desk, group, at, row.name),
        );
      }),
    ),
    h(
      'button',
      {
        type: 'button',
        'data-do': `add-${group}`,
        onClick: () => {
          const last = rows.at(-1);
          const firing = last?.firing ?? draft.firings[0]?.name;
          const begun = group === 'absorption' || group === 'shrinkageBars' ? {} : spanOf(last as DraftSag);
          set([...rows, { name: nextName(rows, first), firing, ...begun }]);
        },
      },
      add,
    ),
  );
};

/** Supports stay where they are: the next bar lies over the same span. */
const spanOf = (last: DraftSag | undefined): Partial<DraftSag> => ({
  ...(last?.span_mm === undefined ? {} : { span_mm: last.span_mm }),
  ...(last?.supportHeight_mm === undefined ? {} : { supportHeight_mm: last.supportHeight_mm }),
});
