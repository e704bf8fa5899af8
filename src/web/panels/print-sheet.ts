import { h } from 'preact';
import { PROPS_CAUTION } from '../../making/firing/props/table.ts';
import { KILN_CAUTIONS } from '../../making/kiln/cautions.ts';
import type { Segment } from '../../making/kiln/schedule.ts';
import type { Session } from '../session.ts';
import { workOf } from '../state/page.ts';
import { brief, type Lengths, lengthText } from '../words.ts';
import { PROPS } from './prop-fields.ts';

/** Each segment in the degrees it was written in: what goes to the kiln is not turned from one into the other. */
const told = (segment: Segment): string => {
  if (segment.kind === 'hold') return `hold ${brief(segment.minutes)} min`;
  const rate =
    segment.rate_F_h === undefined ? `${brief(segment.rate_C_h!)} °C/h` : `${brief(segment.rate_F_h)} °F/h`;
  const to = segment.to_F === undefined ? `${brief(segment.to_C!)} °C` : `${brief(segment.to_F)} °F`;
  return `${rate} to ${to}`;
};

type PropRow = Readonly<Record<string, unknown>>;

const propTold = (prop: PropRow, kind: keyof typeof PROPS, lengths: Lengths): string => {
  const { name, rows } = PROPS[kind];
  const sizes = rows.map(({ label, unit, path }) => {
    const value = Number(prop[String(path[0])]);
    return `${label.toLowerCase()} ${unit === 'mm' ? `${lengthText(value, lengths)} ${lengths}` : `${brief(value)}${unit}`}`;
  });
  return `${name}: ${sizes.join(', ')}${prop.shrinks ? ', of the same clay' : ''}`;
};

/** What the paper beside the kiln must say and the screen shows elsewhere: schedule, setting, cautions. */
export const PrintSheet = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  const { form, clay, schedule, setting } = workOf(page);
  return h(
    'section',
    { class: 'print-sheet' },
    h('h2', null, `${form.name}, ${setting.attitude}; ${clay.name}`),
    setting.props.length > 0 &&
      h(
        'ol',
        null,
        setting.props.map((prop, i) =>
          h('li', { key: i }, propTold(prop as unknown as PropRow, prop.kind, page.lengths)),
        ),
      ),
    h('h2', null, `Schedule: ${schedule.name}`),
    h(
      'ol',
      null,
      schedule.segments.map((segment, i) => h('li', { key: i }, told(segment))),
    ),
    h('h2', null, 'Before you fire'),
    h(
      'ul',
      null,
      [...KILN_CAUTIONS, ...(setting.props.length > 0 ? [PROPS_CAUTION] : [])].map((text) =>
        h('li', { key: text }, text),
      ),
    ),
  );
};
