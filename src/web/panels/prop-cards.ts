import { h } from 'preact';
import { PROPS_CAUTION, type Prop } from '../../making/firing/props/table.ts';
import type { Setting } from '../../making/firing/setting.ts';
import type { Session } from '../session.ts';
import { workOf } from '../state/page.ts';
import { faultSaid } from '../state/spoken.ts';
import { firstProp } from '../state/stands.ts';
import { inLengths } from '../words.ts';
import { caution } from './cautions.ts';
import { tick } from './choice.ts';
import { NumberBox } from './number-box.ts';
import { PROPS } from './prop-fields.ts';

const kinds = Object.keys(PROPS) as Prop['kind'][];

/** Where the boxes measure from, in the words of the attitude. */
const FROM: Readonly<Record<Setting['attitude'], string>> = {
  'on its side': 'Along: from under the middle of the piece, + towards the lip. Across: from under its axis.',
  upright: 'Along and across: from under the middle of the foot.',
  'rim down': 'Along and across: from under the middle of the rim.',
  leaning:
    'Along: from under the middle of the foot, + to the side it leans to. Across: from under its axis.',
};

const card = (session: Session, prop: Prop, i: number) => {
  const page = session.page();
  const work = workOf(page);
  const at = ['setting', 'props', i];
  const { name, rows } = PROPS[prop.kind];
  const faults = page.refused[work.setting.attitude]?.faults ?? [];
  const found = faults.filter(({ field }) => field.startsWith(`setting.props[${i}]`));
  return h(
    'li',
    { key: i, class: found.length > 0 ? 'card bad' : 'card', 'data-prop': prop.kind },
    h(
      'div',
      { class: 'row head' },
      h('b', null, `${i + 1}. ${name}`),
      h('span', { class: 'spring' }),
      h(
        'button',
        {
          type: 'button',
          'aria-label': `Prop ${i + 1}, ${name}: take it away`,
          onClick: () => session.edit(at, undefined),
        },
        '×',
      ),
    ),
    found.map((fault) =>
      h(
        'p',
        { key: fault.field, class: 'fault', role: 'alert' },
        inLengths(`${faultSaid(fault, work)}.`, page.lengths),
      ),
    ),
    h(
      'div',
      { class: 'fields three' },
      rows.map((row) =>
        h(NumberBox, { ...row, key: row.label, over: true, session, path: [...at, ...row.path] }),
      ),
    ),
    tick('of the same clay: shrinks along', `setting.props[${i}].shrinks`, prop.shrinks, (on) =>
      session.edit([...at, 'shrinks'], on),
    ),
  );
};

/** Why it does not stand, where no one prop is to blame. */
const whole = (session: Session) => {
  const page = session.page();
  const work = workOf(page);
  const faults = page.refused[work.setting.attitude]?.faults ?? [];
  return faults
    .filter(({ field }) => field.startsWith('setting.') && !field.startsWith('setting.props['))
    .map((fault) =>
      h(
        'p',
        { key: fault.field, class: 'fault stands', role: 'alert', 'data-fault': fault.field },
        inLengths(`${faultSaid(fault, work)}.`, page.lengths),
      ),
    );
};

/** What the piece stands on besides the shelf, or leans on: one card each. */
export const propCards = (session: Session) => {
  const work = workOf(session.page());
  const { form, setting } = work;
  const { props, attitude } = setting;
  const add = (kind: Prop['kind']): void => {
    const already = props.filter((p) => p.kind === kind).length;
    session.edit(['setting', 'props'], [...props, firstProp(kind, form, attitude, already)]);
  };
  return h(
    'div',
    { class: 'cards' },
    h('h2', null, 'What it stands on'),
    h('p', { class: 'hint' }, props.length === 0 ? 'The bare shelf.' : FROM[attitude]),
    whole(session),
    h(
      'ol',
      null,
      props.map((prop, i) => card(session, prop, i)),
    ),
    h(
      'div',
      { class: 'row adders', role: 'group', 'aria-label': 'Add a prop' },
      kinds.map((kind) =>
        h(
          'button',
          { key: kind, type: 'button', 'data-add': kind, onClick: () => add(kind) },
          `+ ${PROPS[kind].name}`,
        ),
      ),
    ),
    caution('Props and setters', PROPS_CAUTION),
  );
};
