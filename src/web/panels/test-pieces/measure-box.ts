import { h } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Fault } from '../../../error.ts';
import { scaleFor, toFile, toShown } from '../../scale.ts';
import { brief, type Lengths, numberTyped } from '../../words.ts';
import { choice } from '../choice.ts';

interface Props {
  readonly label: string;
  readonly unit: 'mm' | 'g' | '°' | '';
  readonly field: string;
  readonly value: number | undefined;
  readonly lengths: Lengths;
  readonly fault?: Fault | undefined;
  /** What holds while nothing is typed. */
  readonly usual?: number | undefined;
  readonly change: (value: number | undefined) => void;
}

const PLACES = 2;

/** A large box for a number read off a caliper or a balance; emptied, it is still to measure. */
export const MeasureBox = ({ label, unit, field, value, lengths, fault, usual, change }: Props) => {
  const scale = scaleFor({ unit, times: 1, plus: 0, step: 1, places: PLACES }, lengths, 'C');
  const text = (v: number): string => brief(toShown(v, scale), scale.places).replace('−', '-');
  const given = value === undefined ? '' : text(value);
  const [typed, setTyped] = useState<string>();
  useEffect(() => setTyped(undefined), [lengths]);
  const odd = typed !== undefined && typed.trim() !== '' && numberTyped(typed) === undefined;
  const said = odd
    ? `“${typed.trim().slice(0, 20)}” is no number; such as ${usual === undefined ? '12.5' : text(usual)}.`
    : fault && `${fault.value === '' ? 'Nothing' : fault.value} will not do: ${fault.expected}.`;
  const type = (now: string): void => {
    setTyped(now);
    const number = numberTyped(now);
    if (number !== undefined) change(toFile(number, scale));
    else if (now.trim() === '') change(undefined);
  };
  return h(
    'label',
    { class: `measure-box${said === undefined ? '' : ' wrong'}` },
    h('span', { class: 'name' }, label),
    h(
      'span',
      { class: 'box' },
      h('input', {
        type: 'text',
        inputMode: 'decimal',
        autocomplete: 'off',
        value: typed ?? given,
        placeholder: usual === undefined ? '' : text(usual),
        'data-field': field,
        'aria-invalid': said !== undefined,
        'aria-describedby': said === undefined ? undefined : `fault-${field}`,
        onInput: (event: Event) => type((event.target as HTMLInputElement).value),
        onBlur: () => {
          if (!odd) setTyped(undefined);
        },
        onFocus: (event: Event) => (event.target as HTMLInputElement).select(),
      }),
      h('span', { class: 'unit' }, scale.unit),
    ),
    said !== undefined && h('span', { class: 'fault', role: 'alert', id: `fault-${field}` }, said),
  );
};

/** A short text, such as what is scratched on a bar. */
export const textBox = (
  label: string,
  field: string,
  value: string,
  change: (text: string) => void,
  fault?: Fault,
  short = false,
) =>
  h(
    'label',
    { class: `measure-box text${short ? ' short' : ''}${fault ? ' wrong' : ''}` },
    h('span', { class: 'name' }, label),
    h('input', {
      type: 'text',
      value,
      maxLength: 40,
      'data-field': field,
      onChange: (event: Event) => change((event.target as HTMLInputElement).value.trim()),
    }),
    fault && h('span', { class: 'fault', role: 'alert' }, `${fault.value} will not do: ${fault.expected}.`),
  );

/** One of a few, looking like the boxes beside it. */
export const pick = (...[label, field, value, names, choose]: Parameters<typeof choice>) =>
  choice(label, field, value, names, choose, 'measure-box');
