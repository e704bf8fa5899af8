import { h } from 'preact';
import type { Compared } from '../../../making/learning/how-right.ts';
import type { LearningLog } from '../../../making/learning/learning-log.ts';
import { keyOfFile } from '../../state/learning.ts';
import type { Studio } from '../../state/page.ts';
import { inLengths, type Lengths, lengthReading } from '../../words.ts';
import { intervalText, measuredText } from '../unloading/foretold-text.ts';
import { mark } from './marks.ts';

const formName = (studio: Studio, file: string): string =>
  studio.forms[file.replace(/\.form\.json$/, '')]?.name ??
  file.replace(/\.form\.json$/, '').replaceAll('-', ' ');

/** Where a piece of an update is shown. */
export const linkTo = (log: LearningLog, row: Compared): string => {
  const entry = log.entries.find((e) => e.id === row.entry);
  const from = entry && entry.kind !== 'taken back' ? keyOfFile(entry.from) : '';
  return `#unloading/${encodeURIComponent(from)}/${encodeURIComponent(row.piece)}`;
};

/** All that is known of one measure, in a line. */
export const rowTold = (studio: Studio, row: Compared, lengths: Lengths): string => {
  const { unit } = lengthReading(lengths);
  const interval = { low_mm: row.low_mm, middle_mm: row.middle_mm, high_mm: row.high_mm };
  return `Piece ${row.piece}, ${formName(studio, row.form)}, ${row.attitude}, ${row.kiln}, ${row.date}: ${inLengths(row.name, lengths)} predicted ${intervalText(interval, lengths)} ${unit}, measured ${measuredText(row.measured_mm, lengths)} ${unit}`;
};

const grouped = (rows: readonly Compared[]): Map<string, Compared[]> => {
  const groups = new Map<string, Compared[]>();
  for (const row of rows) {
    const key = `${row.entry}/${row.piece}`;
    groups.set(key, [...(groups.get(key) ?? []), row]);
  }
  return groups;
};

const pieceRows = (studio: Studio, log: LearningLog, rows: readonly Compared[], lengths: Lengths) =>
  rows.map((row, i) => {
    const interval = { low_mm: row.low_mm, middle_mm: row.middle_mm, high_mm: row.high_mm };
    return h(
      'tr',
      { key: row.key, class: i === 0 ? 'first' : '' },
      i === 0 &&
        h(
          'th',
          { rowSpan: rows.length, scope: 'rowgroup' },
          h(
            'a',
            { href: linkTo(log, row), 'data-piece-link': row.piece },
            h('svg', { viewBox: '-10 -10 20 20', 'aria-hidden': true }, mark(row.attitude, 0, 0, 'inside')),
            h('span', null, h('b', null, row.piece), ` ${formName(studio, row.form)}`),
          ),
          h('small', null, `${row.attitude}, ${row.kiln}, ${row.date}`),
        ),
      h('td', { class: 'what' }, inLengths(row.name, lengths)),
      h('td', null, intervalText(interval, lengths)),
      h('td', null, measuredText(row.measured_mm, lengths)),
      h('td', { class: row.inside ? 'in' : 'out' }, row.inside ? 'inside' : 'outside'),
    );
  });

/** Every piece, newest first, each with a way to its unloading. */
export const RightList = ({
  studio,
  log,
  rows,
  lengths,
}: {
  readonly studio: Studio;
  readonly log: LearningLog;
  readonly rows: readonly Compared[];
  readonly lengths: Lengths;
}) => {
  const { unit } = lengthReading(lengths);
  return h(
    'section',
    { class: 'right-list', 'aria-label': 'Every piece' },
    h('h2', null, 'Every piece, newest first'),
    h(
      'table',
      null,
      h(
        'thead',
        null,
        h(
          'tr',
          null,
          ['Piece', 'Measure', `Predicted, ${unit}`, `Measured, ${unit}`, 'Its interval'].map((name) =>
            h('th', { key: name, scope: 'col' }, name),
          ),
        ),
      ),
      [...grouped(rows)]
        .toReversed()
        .map(([key, own]) => h('tbody', { key }, pieceRows(studio, log, own, lengths))),
    ),
  );
};
