import { h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { FormTold } from '../../state/record/answers.ts';
import { askRecord, inWords, type Studio } from '../../state/record/ask.ts';

const NEW = 'new';

interface Typed {
  readonly parent: string;
  readonly series: string;
  readonly name: string;
}

const typedOf = ({ parent, series }: FormTold): Typed => ({
  parent: parent === null ? '' : String(parent),
  series: series === null ? '' : String(series),
  name: '',
});

const idOrNull = (text: string): number | null => (text === '' ? null : Number(text));

const keep = (form: number, { parent, series, name }: Typed): Promise<unknown> =>
  askRecord(`/forms/${form}/descent`, 'POST', {
    parent: idOrNull(parent),
    series: series === NEW ? { name } : idOrNull(series),
  });

const chosenIn = (event: Event): string => (event.target as HTMLSelectElement).value;

const formName = ({ name, version }: FormTold): string =>
  version > 1 ? `${name}, version ${version}` : name;

/** What grew out of what: the form it descends from and the series both belong to. */
export const DescentForm = ({
  form,
  studio,
  said,
  kept,
}: {
  readonly form: FormTold;
  readonly studio: Studio;
  /** That it was kept a moment ago. */
  readonly said: string | undefined;
  readonly kept: () => Promise<void>;
}) => {
  const [typed, setTyped] = useState(typedOf(form));
  const [changed, setChanged] = useState(false);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    // It may have come to stand in another family: the hands find it where they left it.
    if (said !== undefined) button.current?.focus();
  }, []);
  const change = (part: Partial<Typed>): void => {
    setTyped({ ...typed, ...part });
    setChanged(true);
    setTrouble(undefined);
  };
  const choose = (parent: string): void => {
    // A form most often belongs where its parent does; the choice below shows it and can be changed.
    const series = studio.formOf(idOrNull(parent) ?? undefined)?.series;
    change({ parent, ...(series ? { series: String(series) } : {}) });
  };
  const save = async (): Promise<void> => {
    setTrouble(undefined);
    try {
      await keep(form.form, typed);
      await kept();
      setChanged(false);
    } catch (error) {
      setTrouble(inWords(error));
    }
  };
  return h(
    'form',
    {
      class: 'descent-form',
      'aria-label': `Where ${form.name} comes from`,
      onSubmit: (event: Event) => {
        event.preventDefault();
        void save();
      },
    },
    h(
      'label',
      null,
      'Grew out of',
      h(
        'select',
        {
          value: typed.parent,
          'data-field': 'descent.parent',
          onChange: (event: Event) => choose(chosenIn(event)),
        },
        h('option', { value: '' }, 'no other form'),
        studio.forms.map((one) => h('option', { key: one.form, value: String(one.form) }, formName(one))),
      ),
    ),
    h(
      'label',
      null,
      'Series',
      h(
        'select',
        {
          value: typed.series,
          'data-field': 'descent.series',
          onChange: (event: Event) => change({ series: chosenIn(event) }),
        },
        h('option', { value: '' }, 'none'),
        studio.series.map(({ id, name }) => h('option', { key: id, value: String(id) }, name)),
        h('option', { value: NEW }, 'a new series…'),
      ),
    ),
    typed.series === NEW &&
      h(
        'label',
        null,
        'What the new series is called',
        h('input', {
          type: 'text',
          maxLength: 80,
          value: typed.name,
          'data-field': 'descent.name',
          onInput: (event: Event) => change({ name: chosenIn(event) }),
        }),
      ),
    h(
      'div',
      { class: 'row' },
      h('button', { ref: button, type: 'submit', 'data-do': 'keep-descent' }, 'Keep this'),
      h('span', { role: 'status' }, changed ? undefined : said),
    ),
    trouble !== undefined &&
      h('div', { class: 'not-saved', role: 'alert' }, h('b', null, 'Not kept. '), trouble),
  );
};
