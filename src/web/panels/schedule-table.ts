import { h } from 'preact';
import { KILN_CAUTIONS } from '../../making/kiln/cautions.ts';
import type { Schedule, Segment } from '../../making/kiln/schedule.ts';
import type { Session } from '../session.ts';
import { workOf } from '../state/page.ts';
import { faultNote, NumberBox } from './number-box.ts';

const kindChoice = (session: Session, segment: Segment, i: number) =>
  h(
    'select',
    {
      value: segment.kind,
      'aria-label': `Segment ${i + 1}: ramp or hold`,
      onChange: (event: Event) =>
        session.edit(
          ['schedule', 'segments', i],
          (event.target as HTMLSelectElement).value === 'hold'
            ? { kind: 'hold', minutes: 20 }
            : session.page().degrees === 'C'
              ? { kind: 'ramp', rate_C_h: 100, to_C: 1000 }
              : { kind: 'ramp', rate_F_h: 180, to_F: 1800 },
        ),
    },
    h('option', { value: 'ramp' }, 'ramp'),
    h('option', { value: 'hold' }, 'hold'),
  );

/** Each segment keeps the scale its file was written in; the boxes show it in the one the page is switched to. */
const cells = (session: Session, segment: Segment, i: number) => {
  const at = ['schedule', 'segments', i];
  if (segment.kind === 'hold')
    return h(
      'td',
      { colSpan: 2 },
      h(NumberBox, {
        session,
        path: [...at, 'minutes'],
        label: 'Hold for',
        unit: 'min',
        step: 5,
        hideLabel: true,
      }),
    );
  const rate = segment.rate_F_h === undefined ? 'C' : 'F';
  const to = segment.to_F === undefined ? 'C' : 'F';
  return [
    h(
      'td',
      { key: 'rate' },
      h(NumberBox, {
        session,
        path: [...at, `rate_${rate}_h`],
        label: 'Rate',
        unit: `°${rate}/h`,
        step: 5,
        hideLabel: true,
      }),
    ),
    h(
      'td',
      { key: 'to' },
      h(NumberBox, {
        session,
        path: [...at, `to_${to}`],
        label: 'To',
        unit: `°${to}`,
        step: 5,
        hideLabel: true,
      }),
    ),
  ];
};

const scheduleChoice = (session: Session, schedule: Schedule) => {
  const { schedules } = session.page().studio;
  const key = Object.keys(schedules).find((k) => schedules[k]!.name === schedule.name);
  return h(
    'label',
    { class: 'choice' },
    h('span', { class: 'name' }, 'Schedule'),
    h(
      'select',
      {
        value: key ?? '',
        'data-field': 'schedule',
        onChange: (event: Event) => {
          const chosen = schedules[(event.target as HTMLSelectElement).value];
          if (chosen) session.replace({ ...workOf(session.page()), schedule: chosen });
        },
      },
      key === undefined && h('option', { value: '' }, schedule.name),
      Object.entries(schedules).map(([k, s]) => h('option', { key: k, value: k }, s.name)),
    ),
  );
};

/** Ramps and holds, cooling included, with the caution where the kiln is meant. */
export const ScheduleTable = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  const { schedule } = workOf(page);
  const put = (segments: readonly Segment[]) => session.edit(['schedule', 'segments'], segments);
  return h(
    'div',
    { class: 'schedule' },
    scheduleChoice(session, schedule),
    h('p', { class: 'cautions' }, KILN_CAUTIONS[0]),
    h(
      'table',
      null,
      h(
        'thead',
        null,
        h(
          'tr',
          null,
          h('th', { scope: 'col' }, 'Segment'),
          h('th', { scope: 'col' }, 'Rate'),
          h('th', { scope: 'col' }, 'To, or for'),
          h('th', null),
        ),
      ),
      h(
        'tbody',
        null,
        schedule.segments.map((segment, i) =>
          h(
            'tr',
            { key: i },
            h('td', null, kindChoice(session, segment, i)),
            cells(session, segment, i),
            h(
              'td',
              null,
              h(
                'button',
                {
                  type: 'button',
                  class: 'small',
                  'aria-label': `Take segment ${i + 1} away`,
                  onClick: () => put(schedule.segments.toSpliced(i, 1)),
                },
                '×',
              ),
            ),
          ),
        ),
      ),
    ),
    faultNote(page.faults['schedule.segments'], 'fault-segments'),
    h(
      'div',
      { class: 'row' },
      h(
        'button',
        { type: 'button', onClick: () => put([...schedule.segments, { kind: 'hold', minutes: 20 }]) },
        'Another segment',
      ),
    ),
    h(
      'aside',
      { class: 'cautions', 'aria-label': 'Kiln safety' },
      h('b', null, 'Before you fire'),
      h(
        'ul',
        null,
        KILN_CAUTIONS.slice(1).map((text) => h('li', { key: text }, text)),
      ),
    ),
  );
};
