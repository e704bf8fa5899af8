import { h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { badInput, type Fault } from '../../error.ts';
import { scaleFor, toFile, toShown } from '../scale.ts';
import type { Session } from '../session.ts';
import { fieldOf, type Path, valueAt } from '../state/at.ts';
import { onBench } from '../state/page.ts';
import { brief, numberTyped } from '../words.ts';

interface Props {
  readonly session: Session;
  readonly path: Path;
  readonly label: string;
  readonly unit: string;
  /** What one press of an arrow key adds; Shift makes it ten times as much. */
  readonly step?: number;
  readonly places?: number;
  /** Outside value per inside value, where they differ (percent of a share). */
  readonly times?: number;
  readonly hideLabel?: boolean;
  /** What holds while the file says nothing. */
  readonly otherwise?: number | undefined;
  /** A difference of temperatures. */
  readonly apart?: boolean;
  /** The label over the box instead of before it. */
  readonly over?: boolean;
}

/** Says what is wrong with a field, beside it. */
export const faultNote = (fault: Fault | undefined, id: string) =>
  fault &&
  h(
    'span',
    { class: 'fault', role: 'alert', id },
    `${fault.value === '' ? 'Nothing' : fault.value} will not do here: ${fault.expected}`,
  );

/** `at least 0.067` of a share is `at least 6.7 %` beside a box in per cent. */
export const inBoxUnit = (expected: string, times: number, unit: string): string =>
  expected.replace(
    /\b(at least|at most|more than|of at least|of at most|above|below) (\d+(?:\.\d+)?)/g,
    (_, how: string, number: string) => `${how} ${brief(Number(number) * times)} ${unit}`,
  );

/** A number to type, or to step with the arrow keys; what will not do is said beside it and changes nothing. */
export const NumberBox = ({
  session,
  path,
  label,
  unit,
  step = 1,
  places = 1,
  times = 1,
  hideLabel,
  otherwise,
  apart,
  over,
}: Props) => {
  const page = session.page();
  const field = fieldOf(path);
  const value = (valueAt(onBench(page), path) as number | undefined) ?? otherwise;
  const own = { unit, times, plus: 0, step, places, ...(apart && { apart }) };
  const scale = scaleFor(own, page.lengths, page.degrees);
  const given = value === undefined ? '' : brief(toShown(value, scale), scale.places).replace('−', '-');
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const [odd, setOdd] = useState<Fault | undefined>(undefined);
  const box = useRef<HTMLInputElement>(null);
  const refused = page.faults[field];
  // A value changed elsewhere (drag, undo) replaces what was typed, and takes the complaint about it away.
  useEffect(() => {
    if (refused) return;
    setTyped(undefined);
    setOdd(undefined);
  }, [given, refused]);
  // Where the file is in another unit than the box, both are said: the answer is in the file's.
  const asSeen = (refused: Fault): Fault => {
    const value = `${typed ?? given} ${scale.unit}`;
    if (scale === own)
      return times === 1
        ? refused
        : { ...refused, value, expected: inBoxUnit(refused.expected, times, unit) };
    return { ...refused, value: `${value} (${refused.value} ${unit})` };
  };
  const fault = odd ?? (refused && asSeen(refused));

  const offer = (text: string): void => {
    if (text === given) {
      setTyped(undefined);
      return;
    }
    const number = numberTyped(text);
    if (number === undefined) {
      setOdd(
        badInput(
          label,
          text,
          `a number${scale.unit === '' ? '' : ` in ${scale.unit}`}, such as ${given || '10'}`,
        ).faults[0],
      );
      return;
    }
    setOdd(undefined);
    if (session.edit(path, toFile(number, scale))) setTyped(undefined);
  };
  const nudge = (event: KeyboardEvent): void => {
    const way = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0;
    if (event.key === 'Enter') offer((event.target as HTMLInputElement).value);
    if (way === 0 || value === undefined) return;
    event.preventDefault();
    const by = way * scale.step * (event.shiftKey ? 10 : 1);
    session.edit(path, toFile(Math.round((toShown(value, scale) + by) * 1000) / 1000, scale), `key ${field}`);
  };
  return h(
    'label',
    { class: `number${fault ? ' wrong' : ''}${over ? ' over' : ''}` },
    h('span', { class: hideLabel ? 'unseen' : 'name' }, label),
    h(
      'span',
      { class: 'box' },
      h('input', {
        ref: box,
        type: 'text',
        inputMode: 'decimal',
        autocomplete: 'off',
        value: typed ?? given,
        'data-field': field,
        'aria-invalid': fault !== undefined,
        'aria-describedby': fault ? `fault-${field}` : undefined,
        onInput: (event: Event) => setTyped((event.target as HTMLInputElement).value),
        onBlur: (event: Event) => offer((event.target as HTMLInputElement).value),
        onFocus: (event: Event) => (event.target as HTMLInputElement).select(),
        onKeyDown: nudge,
      }),
      h('span', { class: 'unit' }, scale.unit),
    ),
    faultNote(fault, `fault-${field}`),
  );
};
