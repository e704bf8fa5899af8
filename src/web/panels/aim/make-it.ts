import { h } from 'preact';
import { parseForm } from '../../../making/form/form.ts';
import type { Session } from '../../session.ts';
import type { AimDesk } from '../../state/aim-desk.ts';
import { fileNameOf, formText } from '../../state/form-file.ts';
import { workOf } from '../../state/page.ts';
import { inDegrees, inLengths } from '../../words.ts';
import type { Made } from '../../worker/aim-jobs.ts';
import { saveText } from '../save.ts';
import { AimRun } from './aim-run.ts';
import { type Row, rowsOf, smallLength } from './aim-words.ts';

const MOST_NAME = 80;

/** It is another form than the wanted one, so that saving it overwrites nothing. */
const toMake = (made: Made): Made['form'] => {
  const name = `${made.form.name.slice(0, MOST_NAME - 9)}, to make`;
  return parseForm({ ...made.form, name });
};

const putOnBench = (session: Session, made: Made): void => {
  session.replace({ ...workOf(session.page()), form: toMake(made) });
  session.update((p) => ({ ...p, opened: undefined, chosen: undefined }));
};

/** Where it went: nothing else on this page moves when the form goes to the bench. */
const onBench = (session: Session, made: Made) =>
  JSON.stringify(workOf(session.page()).form) === JSON.stringify(toMake(made)) &&
  h(
    'p',
    { class: 'on-bench' },
    'It is on the bench now: ',
    h('a', { href: '#bench' }, 'Shape and fire'),
    '. Your wanted form can be put back at the top of this page.',
  );

const TITLES: Readonly<Record<Row['part'], string>> = {
  line: 'Line',
  wall: 'Wall',
  alterations: 'Alterations',
};

const table = (rows: readonly Row[], part: Row['part']) => {
  const own = rows.filter((row) => row.part === part);
  if (own.length === 0) return null;
  const compared = own.some((row) => row.wanted !== undefined);
  return h(
    'table',
    { key: part, class: 'changes' },
    h(
      'thead',
      null,
      h(
        'tr',
        null,
        h('th', { scope: 'col' }, TITLES[part]),
        compared && h('th', { scope: 'col' }, 'wanted'),
        h('th', { scope: 'col' }, 'make'),
        compared && h('th', { scope: 'col' }, 'change'),
      ),
    ),
    h(
      'tbody',
      null,
      own.map(({ name, unit, wanted, make, by, changed }) =>
        h(
          'tr',
          { key: name, class: changed ? '' : 'same' },
          h('th', { scope: 'row' }, name, h('i', null, ` ${unit}`)),
          compared && h('td', null, wanted ?? 'none'),
          h('td', { class: 'make' }, make),
          compared && h('td', { class: 'by' }, changed ? by : 'as wanted'),
        ),
      ),
    ),
  );
};

const remaining = (made: Made, told: (text: string) => string, lengths: 'mm' | 'in') => {
  const known = Number.isFinite(made.max_m);
  const size = (m: number): string => `${smallLength(m, lengths)} ${lengths}`;
  const summary = made.within
    ? `Hands can make it: what remains is at most ${size(made.max_m)}, within the ${size(made.limit_m)} taken as well (a guess).`
    : known
      ? `Hands come this near: ${size(made.max_m)} remain at the worst place; ${size(made.limit_m)} is taken as well (a guess).`
      : 'What hands can make of it does not come through the fire.';
  return [
    h('p', { key: 's', class: `said ${made.within ? '' : 'wrong'}`, 'data-within': made.within }, summary),
    h(
      'ul',
      { key: 'r', class: 'remains' },
      made.remains.map(({ kind, text }) => h('li', { key: text, 'data-remains': kind }, told(text))),
    ),
  ];
};

const answer = (session: Session, made: Made) => {
  const { lengths, degrees } = session.page();
  const told = (text: string): string => inDegrees(inLengths(text, lengths), degrees);
  const rows = rowsOf(made.changes, made.form, lengths);
  return [
    h(
      'div',
      { key: 'text', class: 'made-told' },
      remaining(made, told, lengths),
      made.added.length > 0 && [
        h('h3', { key: 'h' }, 'What hands add to the wanted form'),
        h(
          'ul',
          { key: 'a', class: 'remains' },
          made.added.map((text) => h('li', { key: text }, told(text))),
        ),
      ],
      h(
        'div',
        { class: 'row' },
        h(
          'button',
          { type: 'button', class: 'main', 'data-do': 'to-bench', onClick: () => putOnBench(session, made) },
          'Put this form on the bench',
        ),
        h(
          'button',
          {
            type: 'button',
            'data-do': 'save-made',
            onClick: () => saveText(formText(toMake(made)), fileNameOf(toMake(made))),
          },
          'Save form to make',
        ),
      ),
      h('div', { key: 'on-bench', role: 'status' }, onBench(session, made)),
      h(
        'p',
        { class: 'hint' },
        'Sizes of the wet piece: lines by half millimetres, walls by tenths. On the bench it can be undone.',
      ),
    ),
    h(
      'div',
      { key: 'tables', class: 'change-tables' },
      table(rows, 'line'),
      h('div', null, table(rows, 'wall'), table(rows, 'alterations')),
    ),
  ];
};

/** What hands can do of the free shape, and what then remains. */
export const MakeIt = ({ session, desk }: { readonly session: Session; readonly desk: AimDesk }) => {
  const { found, made } = desk.now();
  if (!found || found.aim.verdict.kind === 'falls') return null;
  return h(
    'section',
    { class: 'make-it', 'aria-label': 'Make it makeable' },
    h('h2', null, 'Make it makeable'),
    !made &&
      h(
        'p',
        { class: 'hint' },
        'The shape found is free: no hand throws it exactly. This fits the line, the wall and the alterations of your form to it, in steps hands can keep, and fires that.',
      ),
    made
      ? h('div', { class: 'made' }, answer(session, made))
      : h(AimRun, {
          desk,
          kind: 'make',
          name: 'Find what hands can make',
          main: true,
          lengths: session.page().lengths,
          begin: () => void desk.make(),
        }),
  );
};
