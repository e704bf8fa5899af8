import { h } from 'preact';
import type { Film } from '../worker/film.ts';

interface Props {
  readonly film: Film | undefined;
  readonly softnessIsGuess: boolean;
  readonly trouble: string | undefined;
}

const CALM = new Set(['stands']);

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
