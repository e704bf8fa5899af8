import { h } from 'preact';
import { plain, readWithUnit, VOLUME } from '../words.ts';
import type { Film } from '../worker/film.ts';

interface Props {
  readonly film: Film | undefined;
  readonly softnessIsGuess: boolean;
  readonly trouble: string | undefined;
}

const mm = (length_m: number): string => plain(length_m * 1000);
const CALM = new Set(['stands']);

/** What somebody with a tape wants to know first. */
const sizeText = ({ firedMeasures: m }: Film): string => {
  const size = `After the fire ${mm(m.height_m)} mm tall, ${mm(m.widest_m)} mm wide`;
  return m.capacity_m3 > 0 ? `${size}, holding ${readWithUnit(m.capacity_m3, VOLUME)}.` : `${size}.`;
};

/** What becomes of the piece, as a sentence; what to watch; and what it hangs on. */
export const Verdict = ({ film, softnessIsGuess, trouble }: Props) =>
  h(
    'section',
    { class: 'verdict', 'aria-live': 'polite', 'aria-label': 'What comes out' },
    trouble
      ? h('p', { class: 'said wrong', role: 'alert' }, trouble)
      : h(
          'p',
          {
            class: `said ${film && !CALM.has(film.verdict.kind) ? 'moved' : ''}`,
            'data-verdict': film?.verdict.kind ?? '',
          },
          film?.verdict.text ?? 'Firing a first quick look…',
        ),
    film && !trouble && h('p', { class: 'size' }, sizeText(film)),
    film &&
      film.warnings.length > 0 &&
      h(
        'ul',
        { class: 'warnings' },
        film.warnings.map((w) => h('li', { key: w.kind, 'data-warning': w.kind }, w.text)),
      ),
    softnessIsGuess &&
      h('p', { class: 'guess' }, 'How soft this clay goes is a guess until a test bar is fired.'),
  );
