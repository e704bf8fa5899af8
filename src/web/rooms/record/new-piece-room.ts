import { h } from 'preact';
import { useState } from 'preact/hooks';
import { withStudio } from '../../panels/record/with-studio.ts';
import { NumberPad, typedBy } from '../../panels/unloading/number-pad.ts';
import { silhouette } from '../../panels/unloading/silhouette.ts';
import { Tiles } from '../../panels/unloading/tiles.ts';
import type { Session } from '../../session.ts';
import { keptAmount, unitOf } from '../../state/record/amount.ts';
import type { FormTold } from '../../state/record/answers.ts';
import { askRecord, inWords, newUid, pieceLink, type Studio } from '../../state/record/ask.ts';
import type { RoomProps } from '../rooms.ts';
import { unitsOf } from './piece-room.ts';

/** The newest version of each form, the one worked on last first. */
const newestForms = (forms: readonly FormTold[]): FormTold[] => {
  const byKey = new Map(forms.map((form) => [form.key, form]));
  return [...byKey.values()].sort((a, b) => ((a.last_utc ?? '') < (b.last_utc ?? '') ? 1 : -1));
};

interface Sent {
  readonly of: string;
  readonly uid: string;
  readonly at_utc: string;
}

const NewPiece = ({
  studio,
  session,
  again,
}: {
  readonly studio: Studio;
  readonly session: Session;
  readonly again: () => Promise<void>;
}) => {
  const units = unitsOf(session, studio);
  const forms = newestForms(studio.forms);
  const usual = studio.clays.find(({ key }) => key === studio.settings.clay) ?? studio.clays[0];
  const [number, setNumber] = useState(studio.next);
  const [form, setForm] = useState(forms[0] && String(forms[0].form));
  const [clay, setClay] = useState(usual && String(usual.id));
  const [weight, setWeight] = useState('');
  const [fresh, setFresh] = useState(true);
  const [thrown, setThrown] = useState(true);
  const [sent, setSent] = useState<Sent | undefined>(undefined);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const { zone } = studio.settings;

  const addForm = async (): Promise<void> => {
    setTrouble(undefined);
    try {
      await addBenchForm(session);
      await again();
    } catch (error) {
      setTrouble(inWords(error));
    }
  };

  const begin = async (): Promise<void> => {
    const clay_g = keptAmount('formed', 'clay_g', weight, units);
    if (typeof clay_g === 'string') return setTrouble(`Weight: ${weight} will not do: ${clay_g}.`);
    if (number.trim() === '') return setTrouble('The piece needs a number.');
    const of = JSON.stringify([number, form, clay, weight, thrown]);
    const frame = sent?.of === of ? sent : { of, uid: newUid(), at_utc: new Date().toISOString() };
    setSent(frame);
    setTrouble(undefined);
    const { at_utc, uid } = frame;
    const formed = {
      at_utc,
      zone,
      uid: `${uid}-t`,
      kind: 'formed',
      data: { how: 'thrown', ...(clay_g === undefined ? {} : { clay_g }) },
    };
    const taken =
      clay_g === undefined
        ? []
        : [{ at_utc, zone, uid: `${uid}-w`, kind: 'weighed', data: { clay: 'wet', weight_g: clay_g } }];
    try {
      await askRecord('/pieces', 'POST', {
        number: number.trim(),
        ...(form ? { form: Number(form) } : {}),
        ...(clay ? { clay: Number(clay) } : {}),
        at_utc,
        zone,
        uid,
        also: thrown ? [formed] : taken,
      });
      location.hash = pieceLink(number.trim()).slice(1);
    } catch (error) {
      setTrouble(inWords(error));
    }
  };

  return h(
    'main',
    { class: 'room new-piece' },
    h('h1', null, 'New piece'),
    h(
      'form',
      {
        onSubmit: (event: Event) => {
          event.preventDefault();
          void begin();
        },
      },
      h(
        'div',
        { class: 'new-piece-what' },
        h(
          'label',
          { class: 'entry-field' },
          'Number',
          h('input', {
            type: 'text',
            class: 'big-number',
            maxLength: 40,
            value: number,
            autocomplete: 'off',
            'data-field': 'new.number',
            onInput: (event: Event) => setNumber((event.target as HTMLInputElement).value),
          }),
        ),
        h('h2', null, 'Form'),
        h(Tiles, {
          label: 'Form',
          field: 'new.form',
          chosen: form,
          tiles: forms.map(({ form: id, name, json }) => ({
            key: String(id),
            name,
            picture: silhouette(json, { attitude: 'upright', lean_deg: 0 }),
          })),
          choose: setForm,
        }),
        h(
          'p',
          { class: 'hint' },
          'The form on the bench can be added: ',
          h(
            'button',
            { type: 'button', 'data-do': 'add-form', onClick: () => void addForm() },
            'Add the form on the bench',
          ),
        ),
        studio.clays.length > 0 && [
          h('h2', { key: 'h' }, 'Clay'),
          h(Tiles, {
            key: 't',
            label: 'Clay',
            field: 'new.clay',
            chosen: clay,
            tiles: studio.clays.map(({ id, name }) => ({ key: String(id), name })),
            choose: setClay,
          }),
        ],
      ),
      h(
        'div',
        { class: 'new-piece-weight' },
        h(
          'div',
          { class: 'entry-field number' },
          h('label', { for: 'new-weight' }, 'Clay taken', h('small', null, ' may be left out')),
          h(
            'span',
            { class: 'entry' },
            h('input', {
              id: 'new-weight',
              type: 'text',
              inputMode: 'none',
              autocomplete: 'off',
              value: weight,
              'data-field': 'new.weight',
              onFocus: () => setFresh(true),
              onInput: (event: Event) => setWeight((event.target as HTMLInputElement).value),
            }),
            h('span', { class: 'unit' }, unitOf('clay_g', units)),
          ),
        ),
        h(NumberPad, {
          signed: false,
          press: (key) => {
            if (key === 'next') {
              document.querySelector<HTMLElement>('[data-do="begin-piece"]')?.focus();
              return;
            }
            setWeight(typedBy(key, weight, fresh));
            setFresh(false);
          },
        }),
        h(
          'label',
          { class: 'check' },
          h('input', {
            type: 'checkbox',
            checked: thrown,
            'data-field': 'new.thrown',
            onChange: (event: Event) => setThrown((event.target as HTMLInputElement).checked),
          }),
          'It is thrown already',
        ),
        trouble !== undefined &&
          h(
            'div',
            { class: 'not-saved', role: 'alert' },
            h('b', null, 'Not recorded. '),
            `${trouble} What you typed is still here.`,
          ),
        h('button', { type: 'submit', class: 'main big', 'data-do': 'begin-piece' }, 'Begin this piece'),
      ),
    ),
  );
};

const slug = (name: string): string =>
  name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60) || 'form';

/** The form on the bench becomes a sheet of the record; of one that is there already, the next version. */
const addBenchForm = async (session: Session): Promise<void> => {
  const page = session.page();
  const { form } = page.history.present;
  const opened = page.opened === undefined ? undefined : page.studio.forms[page.opened];
  const key = page.opened !== undefined && opened?.name === form.name ? page.opened : slug(form.name);
  await askRecord('/sheets', 'POST', { kind: 'form', key, json: form });
};

/** Form, clay, weight: the number is proposed. */
export const NewPieceRoom = ({ session }: RoomProps) =>
  withStudio((studio, again) =>
    studio.empty
      ? h(
          'main',
          { class: 'room' },
          h('h1', null, 'New piece'),
          h(
            'p',
            null,
            h('a', { class: 'button main', href: '#today' }, 'First, four things about the studio'),
          ),
        )
      : h(NewPiece, { studio, session, again }),
  );
