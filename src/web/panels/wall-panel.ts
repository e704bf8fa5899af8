import { h } from 'preact';
import type { Session } from '../session.ts';
import { onBench } from '../state/page.ts';
import { faultsOf } from './faults-of.ts';
import { faultNote, NumberBox } from './number-box.ts';

type Reading = { readonly along: number; readonly angle_deg: number; readonly thickness_mm: number };

const CELLS = [
  ['along', 'Up the line', '%', 1, 100],
  ['angle_deg', 'Round at', '°', 15, 1],
  ['thickness_mm', 'Wall', 'mm', 0.1, 1],
] as const;

/** A quarter turn on from the last, at the same height: so a ring of four is four taps. */
const nextReading = (readings: readonly Reading[], wall_mm: number): Reading => {
  const last = readings.at(-1);
  if (!last) return { along: 0.5, angle_deg: 0, thickness_mm: wall_mm };
  return { ...last, angle_deg: (last.angle_deg + 90) % 360 };
};

const offCentre = (session: Session) =>
  h(
    'div',
    { class: 'fields three' },
    h(NumberBox, {
      session,
      path: ['form', 'uneven', 'offCentre_mm'],
      label: 'Off centre by',
      unit: 'mm',
      step: 0.1,
      places: 2,
      otherwise: 0,
      over: true,
    }),
    h(NumberBox, {
      session,
      path: ['form', 'uneven', 'towards_deg'],
      label: 'Thin side',
      unit: '°',
      step: 15,
      otherwise: 0,
      over: true,
    }),
  );

const readingRow = (session: Session, i: number) => {
  const at = ['form', 'uneven', 'callipers', i];
  const { faults } = session.page();
  const bad = Object.keys(faults).some((f) => f.startsWith(`form.uneven.callipers[${i}]`));
  return h(
    'tr',
    { key: i, class: bad ? 'bad' : '', 'data-reading': i },
    h('th', { scope: 'row' }, i + 1),
    CELLS.map(([key, label, unit, step, times]) =>
      h(
        'td',
        { key },
        h(NumberBox, {
          session,
          path: [...at, key],
          label: `Reading ${i + 1}: ${label}`,
          unit,
          step,
          times,
          places: key === 'thickness_mm' ? 2 : 1,
          hideLabel: true,
        }),
      ),
    ),
    h(
      'td',
      null,
      h(
        'button',
        {
          type: 'button',
          class: 'small',
          'aria-label': `Take reading ${i + 1} away`,
          onClick: () => session.edit(at, undefined),
        },
        '×',
      ),
    ),
  );
};

const readingTable = (session: Session, readings: readonly Reading[]) =>
  h(
    'table',
    { class: 'readings' },
    h(
      'thead',
      null,
      h(
        'tr',
        null,
        h('th', null, h('span', { class: 'unseen' }, 'Reading')),
        CELLS.map(([key, label]) => h('th', { key, scope: 'col' }, label)),
        h('th', null),
      ),
    ),
    h(
      'tbody',
      null,
      readings.map((_, i) => readingRow(session, i)),
    ),
  );

/** How the real wall differs from the one drawn: opened off centre, or as the callipers read it. */
export const WallPanel = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  const { form } = onBench(page);
  const readings = form.uneven?.callipers ?? [];
  const wall_mm = form.wall[Math.floor(form.wall.length / 2)]!.thickness_mm;
  return h(
    'div',
    { class: 'wall-panel' },
    h('h2', null, 'Thrown off centre'),
    h(
      'p',
      { class: 'hint' },
      'How far the inside was opened off the axis: the wall is thinner by so much on that side, and thicker opposite.',
    ),
    offCentre(session),
    h('h2', null, 'Measured with callipers'),
    h(
      'p',
      { class: 'hint' },
      'The wall goes through every reading. Angles go round from the right, seen from above, counter-clockwise.',
    ),
    readings.length > 0 && readingTable(session, readings),
    faultsOf(page.faults, 'form.uneven'),
    faultNote(page.faults['form.uneven.callipers'], 'fault-callipers'),
    h(
      'div',
      { class: 'row adders' },
      h(
        'button',
        {
          type: 'button',
          'data-add': 'reading',
          onClick: () =>
            session.edit(['form', 'uneven', 'callipers'], [...readings, nextReading(readings, wall_mm)]),
        },
        '+ Reading',
      ),
      form.uneven &&
        h(
          'button',
          { type: 'button', onClick: () => session.edit(['form', 'uneven'], undefined) },
          'Even again',
        ),
    ),
  );
};
