import { type ComponentChildren, h } from 'preact';
import type { Estimate } from '../../making/firing/firing.ts';
import type { Measures } from '../../making/form/measures.ts';
import type { Session } from '../session.ts';
import { type Lengths, lengthReading, type Reading, read, roughly, VOLUME, WEIGHT } from '../words.ts';
import type { Film } from '../worker/film.ts';
import { madeOf, withInterval } from './interval.ts';

interface Row {
  readonly name: string;
  /** Name in the page's data attributes. */
  readonly key: string;
  readonly reading: (lengths: Lengths) => Reading;
  readonly of: (measures: Measures) => number;
  /** Key of the firing's estimate that carries the interval. */
  readonly estimate?: string;
}

const ROWS: readonly Row[] = [
  { name: 'Height', key: 'height', reading: lengthReading, of: (m) => m.height_m, estimate: 'height_m' },
  { name: 'Widest', key: 'widest', reading: lengthReading, of: (m) => m.widest_m, estimate: 'widest_m' },
  { name: 'Lip', key: 'lip', reading: lengthReading, of: (m) => m.lipWidth_m, estimate: 'lipWidth_m' },
  { name: 'Foot', key: 'foot', reading: lengthReading, of: (m) => m.footWidth_m, estimate: 'footWidth_m' },
  {
    name: 'Thinnest',
    key: 'thinnest',
    reading: (lengths) => lengthReading(lengths, 1),
    of: (m) => m.thinnestWall_m,
    estimate: 'thinnestWall_m',
  },
  { name: 'Weight', key: 'weight', reading: () => WEIGHT, of: (m) => m.weight_kg, estimate: 'weight_kg' },
  {
    name: 'Holds',
    key: 'capacity',
    reading: () => VOLUME,
    of: (m) => m.capacity_m3,
    estimate: 'capacity_m3',
  },
];

/** A quick look is not known to the last place: it is told one place shorter. */
const readingFor = (row: Row, lengths: Lengths, { care }: Film): Reading => {
  const reading = row.reading(lengths);
  return care === 'quick' ? roughly(reading) : reading;
};

/** The data attribute is in mm, g or ml whatever is shown: it is for programs. */
const cell = (
  row: Row,
  reading: Reading,
  stage: string,
  value: number,
  shown: ComponentChildren = read(value, reading),
) => {
  const own = row.reading('mm');
  const holdsNothing = row.key === 'capacity' && value * own.per_SI < 0.5;
  return h(
    'td',
    {
      key: stage,
      class: stage,
      'data-measure': row.key,
      'data-stage': stage,
      [`data-value-${own.unit}`]: (value * own.per_SI).toFixed(4),
    },
    holdsNothing ? '–' : shown,
  );
};

/** The line under a measure that was tapped: what its interval is made of. */
const apart = (session: Session, key: string, estimate: Estimate | undefined, reading: Reading) =>
  estimate && session.page().unsure === key
    ? h(
        'tr',
        { key: `${key} made of`, class: 'made-of' },
        h('td', { colSpan: 4, role: 'status' }, madeOf(estimate, reading)),
      )
    : null;

const tableRow = (session: Session, row: Row, film: Film) => {
  const { lengths } = session.page();
  const estimate = row.estimate === undefined ? undefined : film.estimates[row.estimate];
  const reading = readingFor(row, lengths, film);
  return [
    h(
      'tr',
      { key: row.key },
      h('th', { scope: 'row' }, row.name, h('i', null, ` ${reading.unit}`)),
      cell(row, reading, 'wet', row.of(film.wetMeasures)),
      cell(row, reading, 'dry', row.of(film.dryMeasures)),
      cell(
        row,
        reading,
        'fired',
        row.of(film.firedMeasures),
        withInterval(session, row.key, row.name, estimate, reading, (r) =>
          read(row.of(film.firedMeasures), r),
        ),
      ),
    ),
    apart(session, row.key, estimate, reading),
  ];
};

const MOVED: readonly (readonly [key: string, name: string, said: string])[] = [
  ['greatestSag_m', 'moves at most', 'greatest-sag'],
  ['lipDrop_m', 'lowers its lip by', 'lip-drop'],
];

/** Movement smaller than this is told as less than it, m. */
const LITTLE_m = 1e-4;

const movedText = (value_m: number, reading: Reading): string =>
  value_m < LITTLE_m
    ? `< ${read(LITTLE_m, { ...reading, places: reading.unit === 'in' ? 3 : 1 })}`
    : read(value_m, reading);

const movedRow = (session: Session, film: Film, [key, name, said]: (typeof MOVED)[number]) => {
  const { lengths } = session.page();
  const estimate = film.estimates[key];
  if (!estimate || !Number.isFinite(estimate.value)) return null;
  const rough = film.care === 'quick' && estimate.value > 10 * LITTLE_m;
  const reading = rough ? roughly(lengthReading(lengths)) : lengthReading(lengths);
  return [
    h(
      'tr',
      { key },
      h('th', { scope: 'row', colSpan: 3 }, name, h('i', null, ` ${lengths}`)),
      h(
        'td',
        {
          class: 'fired',
          'data-measure': said,
          'data-stage': 'fired',
          'data-value-mm': (estimate.value * 1000).toFixed(4),
        },
        withInterval(session, said, name, estimate, reading, (r) => movedText(estimate.value, r)),
      ),
    ),
    apart(session, said, estimate, reading),
  ];
};

/** Thrown, dry, after the fire: what a tape, a scale and a jug would say, and how sure that is. */
export const MeasuresTable = ({
  session,
  film,
}: {
  readonly session: Session;
  readonly film: Film | undefined;
}) => {
  if (!film) return null;
  const sure = Object.values(film.estimates).some(({ low }) => Number.isFinite(low));
  return h(
    'section',
    { class: 'measures', 'aria-label': 'Measures', 'data-care': film.care },
    h(
      'table',
      null,
      h(
        'thead',
        null,
        h(
          'tr',
          null,
          h('th', null, h('span', { class: 'unseen' }, 'What')),
          h('th', { scope: 'col' }, 'Thrown'),
          h('th', { scope: 'col' }, 'Dry'),
          h('th', { scope: 'col' }, 'After'),
        ),
      ),
      h(
        'tbody',
        null,
        ROWS.map((row) => tableRow(session, row, film)),
        h('tr', { class: 'beyond' }, h('th', { scope: 'rowgroup', colSpan: 4 }, 'Beyond shrinkage it')),
        MOVED.map((row) => movedRow(session, film, row)),
      ),
    ),
    h(
      'p',
      { class: 'why' },
      film.care === 'full'
        ? sure
          ? 'Small figures say how sure it is: four in five come out within. Tap one to see what it is made of.'
          : 'Not followed to the end: no interval.'
        : 'A quick look. The full firing is finer and says how sure it is.',
    ),
    h(
      'details',
      null,
      h('summary', null, 'Where this comes from'),
      film.provenance.map((text) => h('p', { key: text }, text)),
    ),
  );
};
