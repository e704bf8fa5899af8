import { h } from 'preact';
import { useState } from 'preact/hooks';
import { DescentForm } from '../../panels/record/descent-form.ts';
import { FamilyDrawing, outcomeText } from '../../panels/record/family-drawing.ts';
import { PieceTile } from '../../panels/record/piece-tile.ts';
import { withStudio } from '../../panels/record/with-studio.ts';
import type { FormTold, Piece } from '../../state/record/answers.ts';
import { partsOfAddress, type Studio, useAsked } from '../../state/record/ask.ts';
import type { RoomProps } from '../rooms.ts';

/** The pieces made to one form. */
const MadeTo = ({
  form,
  studio,
  said,
  kept,
}: {
  readonly form: FormTold;
  readonly studio: Studio;
  /** That its descent was kept a moment ago. */
  readonly said: string | undefined;
  readonly kept: () => Promise<void>;
}) => {
  const { value, trouble } = useAsked<{ pieces: readonly Piece[] }>(`/pieces?form=${form.form}&most=200`);
  return h(
    'section',
    { class: 'made-to', 'aria-label': `Pieces of ${form.name}` },
    h('h2', null, `${form.name}${form.version > 1 ? `, version ${form.version}` : ''}`),
    h('p', { class: 'hint' }, outcomeText(form)),
    h(DescentForm, { key: `${form.parent}/${form.series}`, form, studio, said, kept }),
    trouble !== undefined && h('p', { class: 'wrong', role: 'alert' }, trouble),
    h(
      'div',
      { class: 'piece-tiles' },
      value?.pieces.map(({ id, state }) => h(PieceTile, { key: id, state, studio })),
    ),
  );
};

const legend = () =>
  h(
    'p',
    { class: 'legend outcomes' },
    h('span', { class: 'sold' }, 'sold'),
    h('span', { class: 'here' }, 'here or on the way'),
    h('span', { class: 'lost' }, 'lost'),
  );

/** Forms descending from one another over the years; `#family/12` has the pieces of that form below. */
export const FamilyRoom = (_: RoomProps) => {
  // Kept here: what was said of a form may move it to another family of the page.
  const [said, setSaid] = useState<{ readonly form: number; readonly text: string } | undefined>(undefined);
  return withStudio((studio, again) => {
    const [asked] = partsOfAddress();
    const chosen = studio.formOf(Number(asked));
    const families = [
      ...studio.series.map(({ id, name, note }) => ({
        name,
        note,
        forms: studio.forms.filter(({ series }) => series === id),
      })),
      {
        name: studio.series.length > 0 ? 'Forms of no series' : 'Forms',
        note: '',
        forms: studio.forms.filter(({ series }) => series === null),
      },
    ].filter(({ forms }) => forms.length > 0);
    const drawn = families.map(({ name, note, forms }) =>
      h(
        'section',
        { key: name, class: 'family', 'aria-label': name },
        h('h2', null, name),
        note !== '' && h('p', { class: 'hint' }, note),
        h(FamilyDrawing, { forms, name, chosen: chosen?.form }),
        chosen &&
          forms.includes(chosen) &&
          h(MadeTo, {
            key: chosen.form,
            form: chosen,
            studio,
            said: said?.form === chosen.form ? said.text : undefined,
            kept: async () => {
              setSaid({ form: chosen.form, text: 'Kept; the picture shows it.' });
              await again();
            },
          }),
      ),
    );
    return h(
      'main',
      { class: 'room families' },
      h('div', { class: 'row' }, h('h1', null, 'Families'), h('span', { class: 'spring' }), legend()),
      families.length === 0
        ? h('p', { class: 'hint' }, 'No form is in the record yet.')
        : h(
            'p',
            { class: 'hint' },
            'From left to right as they came up; a line leads from each form to what grew out of it. Tap one for its pieces.',
          ),
      drawn,
    );
  });
};
