import { h } from 'preact';
import type { Estimate } from '../../making/firing/firing.ts';
import type { Measures } from '../../making/form/measures.ts';
import { type Lengths, lengthReading, type Reading, read, VOLUME, WEIGHT } from '../words.ts';
import type { Film } from '../worker/film.ts';

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
  { name: 'Foot', key: 'foot', reading: lengthReading, of: (m) => m.footWidth_m },
  {
    name: 'Thinnest',
    key: 'thinnest',
    reading: (lengths) => lengthReading(lengths, 1),
    of: (m) => m.thinnestWall_m,
    estimate: 'thinnestWall_m',
  },
  { name: 'Weight', key: 'weight', reading: () => WEIGHT, of: (m) => m.weight_kg },
  {
    name: 'Holds',
    key: 'capacity',
    reading: () => VOLUME,
    of: (m) => m.capacity_m3,
    estimate: 'capacity_m3',
  },
];

const interval = (estimate: Estimate | undefined, reading: Reading) =>
  estimate && estimate.high > 0 && Number.isFinite(estimate.low) && Number.isFinite(estimate.high)
    ? h('small', { title: estimate.why }, `${read(estimate.low, reading)} to ${read(estimate.high, reading)}`)
    : null;

/** The data attribute is in mm, g or ml whatever is shown: it is for programs. */
const cell = (row: Row, lengths: Lengths, stage: string, value: number, estimate?: Estimate) => {
  const reading = row.reading(lengths);
  const own = row.reading('mm');
  return h(
    'td',
    {
      key: stage,
      class: stage,
      'data-measure': row.key,
      'data-stage': stage,
      [`data-value-${own.unit}`]: (value * own.per_SI).toFixed(4),
    },
    row.key === 'capacity' && value === 0 ? '–' : read(value, reading),
    interval(estimate, reading),
  );
};

const tableRow = (row: Row, lengths: Lengths, film: Film) => {
  const estimate = row.estimate === undefined ? undefined : film.estimates[row.estimate];
  return h(
    'tr',
    { key: row.key },
    h('th', { scope: 'row' }, row.name, h('i', null, ` ${row.reading(lengths).unit}`)),
    cell(row, lengths, 'wet', row.of(film.wetMeasures)),
    cell(row, lengths, 'dry', row.of(film.dryMeasures)),
    cell(row, lengths, 'fired', row.of(film.firedMeasures), estimate),
  );
};

const MOVED: readonly (readonly [key: string, name: string, said: string])[] = [
  ['greatestSag_m', 'moves at most', 'greatest-sag'],
  ['lipDrop_m', 'lowers its lip by', 'lip-drop'],
];

const movedRow = (film: Film, lengths: Lengths, [key, name, said]: (typeof MOVED)[number]) => {
  const estimate = film.estimates[key];
  if (!estimate || !Number.isFinite(estimate.value)) return null;
  return h(
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
      read(estimate.value, lengthReading(lengths)),
      interval(estimate, lengthReading(lengths)),
    ),
  );
};

/** Thrown, dry, after the fire: what a tape, a scale and a jug would say, and how sure that is. */
export const MeasuresTable = ({
  film,
  lengths,
}: {
  readonly film: Film | undefined;
  readonly lengths: Lengths;
}) => {
  if (!film) return null;
  const why = Object.values(film.estimates)[0]?.why ?? '';
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
        ROWS.map((row) => tableRow(row, lengths, film)),
        h('tr', { class: 'beyond' }, h('th', { scope: 'rowgroup', colSpan: 4 }, 'Beyond shrinkage it')),
        MOVED.map((row) => movedRow(film, lengths, row)),
      ),
    ),
    h(
      'p',
      { class: 'why' },
      film.care === 'full'
        ? `Small figures are the interval: ${why}.`
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
