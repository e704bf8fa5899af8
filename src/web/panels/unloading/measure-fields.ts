import { h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Foretold } from '../../state/foretold.ts';
import {
  firstRows,
  type MeasureRow,
  moreRows,
  photographedValues,
  type Values,
} from '../../state/measure-rows.ts';
import type { DraftPiece } from '../../state/unloading-draft.ts';
import { type Lengths, lengthReading, numberTyped } from '../../words.ts';
import { intervalText, measuredText, outcomeText } from './foretold-text.ts';
import { intervalBar } from './interval-bar.ts';
import { NumberPad, typedBy } from './number-pad.ts';

const MOST_mm = 3000;

interface Typing {
  readonly key: string;
  readonly text: string;
  /** Nothing typed yet: the first figure begins anew. */
  readonly fresh: boolean;
}

interface Props {
  readonly piece: DraftPiece;
  readonly foretold: Foretold | undefined;
  /** Said instead of numbers while there are none. */
  readonly waiting: string;
  readonly lengths: Lengths;
  readonly fixed: boolean;
  readonly change: (part: Partial<DraftPiece>) => void;
}

/** The text as mm; nothing where it is empty, and what is wrong where it is no measure. */
const readTyped = (text: string, row: MeasureRow, lengths: Lengths): number | string | undefined => {
  if (text.trim() === '' || text === '-') return undefined;
  const number = numberTyped(text);
  const { unit } = lengthReading(lengths);
  if (number === undefined) return `a number in ${unit}`;
  const mm = Number((lengths === 'mm' ? number : number * 25.4).toPrecision(8));
  if (!row.signed && mm <= 0) return 'more than 0';
  return Math.abs(mm) > MOST_mm ? `at most ${MOST_mm / 1000} m` : mm;
};

const withValue = (values: Values, key: string, mm: number | undefined): Values => {
  const { [key]: _, ...rest } = values;
  return mm === undefined ? rest : { ...rest, [key]: mm };
};

const expectation = (row: MeasureRow, value: number | undefined, props: Props) => {
  const interval = props.foretold?.measures[row.key];
  if (!interval) return h('p', { class: 'foretold' }, props.waiting);
  const { lengths } = props;
  const outside = value !== undefined && (value < interval.low_mm || value > interval.high_mm);
  return h(
    'div',
    { class: 'foretold', 'data-foretold': row.key },
    intervalBar(interval, value),
    h(
      'p',
      null,
      `predicted ${intervalText(interval, lengths)}`,
      value !== undefined && h('span', null, `, measured ${measuredText(value, lengths)}: `),
      value !== undefined && h('b', { class: outside ? 'wrong' : '' }, outcomeText(value, interval, lengths)),
    ),
  );
};

/** The numbers of one piece, each beside what was expected, and a pad with large keys. */
export const MeasureFields = (props: Props) => {
  const { piece, lengths, fixed, change } = props;
  const [typing, setTyping] = useState<Typing | undefined>(undefined);
  const [fault, setFault] = useState<string | undefined>(undefined);
  const [more, setMore] = useState(false);
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    setTyping(undefined);
    setFault(undefined);
  }, [piece.number, lengths]);
  const wanted = moreRows(piece.setting).filter(({ key }) => more || piece.values[key] !== undefined);
  const photographed = photographedValues(piece.outline, piece.setting);
  const rows = [...firstRows(piece.setting), ...wanted].filter(
    ({ key }) => !fixed || (piece.values[key] ?? photographed[key]) !== undefined,
  );
  const active = rows.find(({ key }) => key === typing?.key);

  const textOf = (value: number | undefined): string => {
    return value === undefined ? '' : measuredText(value, lengths).replace('−', '-');
  };
  const shownOf = (key: string): string => textOf(piece.values[key]);
  const type = (row: MeasureRow, text: string): void => {
    setTyping({ key: row.key, text, fresh: false });
    const read = readTyped(text, row, lengths);
    setFault(typeof read === 'string' ? read : undefined);
    if (typeof read !== 'string') change({ values: withValue(piece.values, row.key, read) });
  };
  const fieldAt = (key: string): HTMLInputElement | null =>
    box.current?.querySelector(`[data-field="measure.${key}"]`) ?? null;
  const next = (): void => {
    const at = rows.findIndex(({ key }) => key === typing?.key);
    fieldAt(rows[(at + 1) % rows.length].key)?.focus();
  };

  const field = (row: MeasureRow) => {
    const value = piece.values[row.key] ?? photographed[row.key];
    const mine = typing?.key === row.key;
    const wrong = mine && fault !== undefined;
    const id = `measure-${row.key.replaceAll(' ', '-')}`;
    return h(
      'div',
      { key: row.key, class: `measure${mine ? ' active' : ''}` },
      h('label', { for: id }, h('b', null, row.name), h('small', null, row.how)),
      fixed
        ? h(
            'output',
            { id, 'data-field': `measure.${row.key}` },
            `${shownOf(row.key)} ${lengthReading(lengths).unit}`,
          )
        : h(
            'span',
            { class: 'entry' },
            h('input', {
              id,
              type: 'text',
              // The pad beside it is larger than the one a tablet would slide over the page.
              inputMode: 'none',
              autocomplete: 'off',
              value: mine ? typing.text : shownOf(row.key),
              placeholder: textOf(photographed[row.key]),
              'data-field': `measure.${row.key}`,
              'aria-invalid': wrong,
              'aria-describedby': wrong ? `${id}-fault` : undefined,
              onFocus: (event: Event) => {
                setFault(undefined);
                setTyping({ key: row.key, text: shownOf(row.key), fresh: true });
                (event.target as HTMLInputElement).select();
              },
              onInput: (event: Event) => type(row, (event.target as HTMLInputElement).value),
              onKeyDown: (event: KeyboardEvent) => {
                if (event.key === 'Enter') next();
              },
            }),
            h('span', { class: 'unit' }, lengthReading(lengths).unit),
          ),
      wrong &&
        h(
          'p',
          { class: 'fault', role: 'alert', id: `${id}-fault` },
          `${typing.text} will not do here: ${fault}`,
        ),
      expectation(row, value, props),
    );
  };

  return h(
    'section',
    { class: 'measuring', 'aria-label': 'What was measured' },
    h(
      'div',
      { class: 'measure-list', ref: box },
      rows.map(field),
      !fixed &&
        rows.some(({ signed }) => signed) &&
        h(
          'p',
          { class: 'hint' },
          'How far the lip came down: its height bone dry, times the firing shrinkage of the clay file, less its height now. Minus: it rose.',
        ),
      rows.length === 0 && h('p', { class: 'hint' }, 'Nothing was measured on this piece.'),
      !fixed &&
        h(
          'div',
          { class: 'row' },
          h(
            'button',
            {
              type: 'button',
              class: 'tick',
              'aria-pressed': more,
              'data-do': 'more-measures',
              onClick: () => setMore(!more),
            },
            'More measures',
          ),
        ),
    ),
    !fixed &&
      h(NumberPad, {
        signed: active?.signed ?? false,
        press: (key) => {
          if (key === 'next') return next();
          const row = active ?? rows[0];
          const now = typing?.key === row.key ? typing : { text: shownOf(row.key), fresh: true };
          if (!active) fieldAt(row.key)?.focus();
          return type(row, typedBy(key, now.text, now.fresh));
        },
      }),
  );
};
