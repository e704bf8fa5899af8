import { h } from 'preact';
import type { Field, KindName } from '../../../making/record/kinds.ts';
import { saysOf, type Units, unitOf } from '../../state/record/amount.ts';
import type { Studio } from '../../state/record/ask.ts';
import { Tiles } from '../unloading/tiles.ts';

export interface FieldProps {
  readonly kind: KindName;
  readonly name: string;
  readonly field: Field;
  readonly text: string;
  readonly fault: string | undefined;
  readonly units: Units;
  readonly studio: Studio;
  readonly places: readonly string[];
  /** What may be chosen, where that is less than the kind allows. */
  readonly of?: readonly string[] | undefined;
  readonly type: (text: string) => void;
  readonly focus: () => void;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const faultOf = (id: string, fault: string | undefined) =>
  fault !== undefined && h('p', { class: 'fault', role: 'alert', id: `${id}-fault` }, fault);

const typedIn = (event: Event): string => (event.target as HTMLInputElement).value;

/** Places it may be: the last ones to be tapped, any other typed. */
const MOST_CHIPS = 5;
const placeChips = (places: readonly string[], text: string, type: (text: string) => void) =>
  places.length > 0 &&
  h(
    'span',
    { class: 'chips' },
    places
      .slice(0, MOST_CHIPS)
      .map((place) =>
        h(
          'button',
          { key: place, type: 'button', 'aria-pressed': place === text, onClick: () => type(place) },
          place,
        ),
      ),
  );

const SHEETS = { form: 'forms', clay: 'clays', kiln: 'kilns', schedule: 'schedules' } as const;

const sheetChoice = (of: keyof typeof SHEETS, { studio, text, type, name }: FieldProps, id: string) => {
  const all: readonly { readonly id: number; readonly name: string }[] =
    of === 'form'
      ? studio.forms.map(({ form, name: called, version }) => ({
          id: form,
          name: version > 1 ? `${called}, version ${version}` : called,
        }))
      : studio[SHEETS[of]];
  return h(
    'select',
    { id, value: text, 'data-field': `entry.${name}`, onChange: (event: Event) => type(typedIn(event)) },
    h('option', { value: '' }, 'not said'),
    all.map((one) => h('option', { key: one.id, value: String(one.id) }, one.name)),
  );
};

const labelOf = ({ kind, name, field }: FieldProps, id: string) =>
  h('label', { for: id }, saysOf(kind, name), !field.needed && h('small', null, ' may be left out'));

const numberField = (props: FieldProps, id: string) => {
  const { name, text, fault, units, type, focus } = props;
  return h(
    'span',
    { class: 'entry' },
    h('input', {
      id,
      type: 'text',
      // The pad beside it is larger than the one a tablet would slide over the page.
      inputMode: 'none',
      autocomplete: 'off',
      value: text,
      'data-field': `entry.${name}`,
      'aria-invalid': fault !== undefined,
      'aria-describedby': fault === undefined ? undefined : `${id}-fault`,
      onFocus: focus,
      onInput: (event: Event) => type(typedIn(event)),
    }),
    h('span', { class: 'unit' }, unitOf(name, units)),
  );
};

/** One field of an entry, by its row in the table of kinds. */
export const EntryField = (props: FieldProps) => {
  const { kind, name, field, text, fault, places, of, type } = props;
  const id = `entry-${name}`;
  if (field.type === 'photo') return null;
  if (field.type === 'choice')
    return h(
      'div',
      { class: 'entry-field' },
      h('span', { class: 'label', id: `${id}-says` }, saysOf(kind, name)),
      h(Tiles, {
        label: saysOf(kind, name),
        field: `entry.${name}`,
        chosen: text === '' ? undefined : text,
        tiles: (of ?? field.of).map((key) => ({ key, name: capital(key) })),
        choose: (key) => type(key === text && !field.needed ? '' : key),
      }),
      faultOf(id, fault),
    );
  const place = field.type === 'text' && (name === 'place' || name === 'box');
  return h(
    'div',
    { class: `entry-field${field.type === 'number' ? ' number' : ''}` },
    labelOf(props, id),
    field.type === 'number' && numberField(props, id),
    field.type === 'sheet' && sheetChoice(field.of, props, id),
    (field.type === 'text' || field.type === 'day') &&
      h('input', {
        id,
        type: field.type === 'day' ? 'date' : 'text',
        maxLength: field.type === 'text' ? field.most : undefined,
        autocomplete: 'off',
        value: text,
        list: place ? 'known-places' : undefined,
        'data-field': `entry.${name}`,
        'aria-invalid': fault !== undefined,
        'aria-describedby': fault === undefined ? undefined : `${id}-fault`,
        onInput: (event: Event) => type(typedIn(event)),
      }),
    place && placeChips(places, text, type),
    faultOf(id, fault),
  );
};
