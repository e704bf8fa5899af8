import { type ComponentChildren, h } from 'preact';
import { useState } from 'preact/hooks';
import { LABEL_SHEETS, USUAL_LABELS } from '../../../making/record-paper/label-sheet.ts';
import type { Piece } from '../../state/record/answers.ts';
import type { Studio } from '../../state/record/ask.ts';
import { type FileDoing, useFileDoing } from './file-doing.ts';

type Kind = 'sheet' | 'cards' | 'tags' | 'labels';
type Paper = 'a4' | 'letter';

/** So many at once; the server takes no more. */
const MOST = 500;

/** `a4-64x38` → `3 × 7 labels of 63.5 × 38.1 mm` */
const labelsTold = (name: string): string => {
  const { columns, rows, labelWidth_mm, labelHeight_mm } = LABEL_SHEETS[name]!;
  return `${columns} × ${rows} labels of ${labelWidth_mm} × ${labelHeight_mm} mm`;
};

interface Props {
  readonly pieces: readonly Piece[];
  readonly studio: Studio;
}

const field = (name: string, input: ComponentChildren) => h('label', null, name, input);

const typed = (set: (text: string) => void) => (event: Event) =>
  set((event.target as HTMLInputElement | HTMLSelectElement).value);

/** Paper, label sheet and the first free label, and the address of what they ask for. */
const usePaper = ({ pieces, studio }: Props) => {
  const [paper, setPaper] = useState<Paper>(studio.settings.paper === 'A4' ? 'a4' : 'letter');
  const [sheet, setSheet] = useState<string>(USUAL_LABELS[paper]);
  const [first, setFirst] = useState('1');
  const taken = pieces.slice(0, MOST);
  const { columns, rows } = LABEL_SHEETS[sheet]!;
  const pathOf = (kind: Kind, price?: boolean): string => {
    const asked = new URLSearchParams({ pieces: taken.map(({ id }) => id).join(','), paper });
    if (kind === 'labels') {
      asked.set('labels', sheet);
      asked.set('first', first.trim());
    }
    if (price) asked.set('price', 'yes');
    return `/papers/${kind}?${asked}`;
  };
  const fields = h(
    'div',
    { class: 'row' },
    field(
      'Paper',
      h(
        'select',
        {
          value: paper,
          'data-field': 'print.paper',
          onChange: typed((text) => {
            setPaper(text as Paper);
            setSheet(USUAL_LABELS[text as Paper]);
          }),
        },
        h('option', { value: 'a4' }, 'A4'),
        h('option', { value: 'letter' }, 'Letter'),
      ),
    ),
    field(
      'Label sheet',
      h(
        'select',
        { value: sheet, 'data-field': 'print.labels', onChange: typed(setSheet) },
        Object.keys(LABEL_SHEETS)
          .filter((name) => name.startsWith(paper))
          .map((name) => h('option', { key: name, value: name }, labelsTold(name))),
      ),
    ),
    field(
      `First free label, 1 to ${columns * rows}`,
      h('input', {
        type: 'text',
        inputMode: 'numeric',
        value: first,
        'data-field': 'print.first',
        onInput: typed(setFirst),
      }),
    ),
  );
  return { pathOf, fields, count: taken.length };
};

const printButton = ({ busy, save }: FileDoing, what: string, name: string, path: () => string) =>
  h('button', { type: 'button', disabled: busy, 'data-print': what, onClick: () => void save(path()) }, name);

const HINT =
  'A PDF each. Print it at full size (100 %). Label sheets differ a little: print one on plain paper first and hold it against yours. Other sheets, tags of another size and a page with rulers: afterfire paper at the command line. Paper and glue stay out of the kiln.';

/** The papers of one piece. */
export const PrintPiece = ({ piece, studio }: { readonly piece: Piece; readonly studio: Studio }) => {
  const { pathOf, fields } = usePaper({ pieces: [piece], studio });
  const files = useFileDoing();
  return h(
    'details',
    { class: 'paper-fold', 'data-fold': 'print' },
    h('summary', null, 'Print'),
    fields,
    h(
      'div',
      { class: 'row' },
      printButton(files, 'sheet', 'Sheet', () => pathOf('sheet')),
      printButton(files, 'cards', 'Card', () => pathOf('cards')),
      printButton(files, 'tags', 'Tag', () => pathOf('tags')),
      piece.state.price && printButton(files, 'tags-price', 'Tag with price', () => pathOf('tags', true)),
      printButton(files, 'labels', 'Label', () => pathOf('labels')),
    ),
    files.told,
    h(
      'p',
      { class: 'hint' },
      `${HINT} The picture on a sheet is foreseen from the form, and takes some seconds.`,
    ),
  );
};

/** Labels of the pieces that are shown. */
export const PrintLabels = ({ pieces, studio }: Props) => {
  const { pathOf, fields, count } = usePaper({ pieces, studio });
  const files = useFileDoing();
  const which = count < pieces.length ? `the first ${count} shown` : `the ${count} shown`;
  return h(
    'details',
    { class: 'paper-fold', 'data-fold': 'labels' },
    h('summary', null, 'Print labels'),
    fields,
    h(
      'div',
      { class: 'row' },
      printButton(files, 'labels', count === 1 ? 'Label of the one shown' : `Labels of ${which}`, () =>
        pathOf('labels'),
      ),
      printButton(files, 'tags', 'Tags', () => pathOf('tags')),
      printButton(files, 'cards', 'Cards', () => pathOf('cards')),
    ),
    files.told,
    h('p', { class: 'hint' }, HINT),
  );
};
