import { h } from 'preact';
import type { Warning } from '../../making/firing/firing.ts';
import { type Degrees, inDegrees, inLengths, type Lengths, plain, readWithUnit, VOLUME } from '../words.ts';
import type { Film } from '../worker/film.ts';

interface Props {
  readonly film: Film | undefined;
  readonly lengths: Lengths;
  readonly degrees: Degrees;
  readonly softnessIsGuess: boolean;
  readonly trouble: string | undefined;
}

/** Whole millimetres, or tenths of an inch: what a tape is read to. */
const taped = (length_m: number, lengths: Lengths): string =>
  lengths === 'mm' ? `${plain(length_m * 1000)} mm` : `${plain(length_m / 0.0254, 1)} in`;
const CALM = new Set(['stands']);

/** What somebody with a tape wants to know first. */
const sizeText = ({ firedMeasures: m }: Film, lengths: Lengths): string => {
  const size = `After the fire ${taped(m.height_m, lengths)} tall, ${taped(m.widest_m, lengths)} wide`;
  return m.capacity_m3 > 0 ? `${size}, holding ${readWithUnit(m.capacity_m3, VOLUME)}.` : `${size}.`;
};

const LEFT_OUT = /^Carving (\d+) is too fine/;

/** Several carvings left out of one picture are told in one breath. */
const inOne = ({ warnings, care }: Film): readonly Warning[] => {
  const out = warnings.flatMap(({ text }) => LEFT_OUT.exec(text)?.[1] ?? []);
  if (out.length < 2) return warnings;
  const list = `${out.slice(0, -1).join(', ')} and ${out.at(-1)}`;
  const look = care === 'quick' ? 'this quick look' : 'so few triangles';
  return [
    {
      kind: 'too-fine',
      text: `Carvings ${list} are too fine for ${look}: their outlines are drawn, the wall is whole.`,
    },
    ...warnings.filter(({ text }) => !LEFT_OUT.test(text)),
  ];
};

/** What becomes of the piece, as a sentence; what to watch; and what it hangs on. */
export const Verdict = ({ film, lengths, degrees, softnessIsGuess, trouble }: Props) =>
  h(
    'section',
    { class: 'verdict', 'aria-live': 'polite', 'aria-label': 'What comes out' },
    trouble
      ? h('p', { class: 'said wrong', role: 'alert' }, inDegrees(inLengths(trouble, lengths), degrees))
      : h(
          'p',
          {
            class: `said ${film && !CALM.has(film.verdict.kind) ? 'moved' : ''}`,
            'data-verdict': film?.verdict.kind ?? '',
          },
          film ? inDegrees(inLengths(film.verdict.text, lengths), degrees) : 'Firing a first quick look…',
        ),
    film &&
      !trouble &&
      film.margin &&
      h(
        'p',
        { class: 'margin', 'data-margin': film.margin.minutes.toFixed(1) },
        inLengths(film.margin.text, lengths),
      ),
    film && !trouble && h('p', { class: 'size' }, sizeText(film, lengths)),
    film &&
      !trouble &&
      film.warnings.length > 0 &&
      h(
        'ul',
        { class: 'warnings' },
        inOne(film).map((w) =>
          h('li', { key: w.text, 'data-warning': w.kind }, inDegrees(inLengths(w.text, lengths), degrees)),
        ),
      ),
    softnessIsGuess &&
      h('p', { class: 'guess' }, 'How soft this clay goes is a guess until a test bar is fired.'),
  );
