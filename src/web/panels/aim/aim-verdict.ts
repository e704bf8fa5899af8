import { h } from 'preact';
import type { AimState } from '../../state/aim-desk.ts';
import { type Degrees, inDegrees, inLengths, type Lengths } from '../../words.ts';
import { smallLength } from './aim-words.ts';

interface Props {
  readonly found: NonNullable<AimState['found']>;
  readonly lengths: Lengths;
  readonly degrees: Degrees;
}

const GOOD = new Set(['reached', 'reached-but-where-it-lies']);

/** What came of looking, in a sentence; pass by pass; what to watch; and what it hangs on. */
export const AimVerdict = ({ found: { aim, triangles }, lengths, degrees }: Props) => {
  const told = (text: string): string => inDegrees(inLengths(text, lengths), degrees);
  const { passes, verdict, warnings, provenance } = aim;
  return h(
    'section',
    { class: 'aim-verdict', 'aria-live': 'polite', 'aria-label': 'What was found' },
    h(
      'p',
      { class: `said ${GOOD.has(verdict.kind) ? '' : 'wrong'}`, 'data-verdict': verdict.kind },
      told(verdict.text),
    ),
    passes.length > 0 &&
      h(
        'p',
        { class: 'passes', 'data-passes': passes.length },
        h('span', null, `Furthest off, pass by pass: `),
        h('b', null, `${passes.map((p) => smallLength(p.max_m, lengths)).join(' → ')} ${lengths}`),
      ),
    h('p', { class: 'hint' }, `Looked for with about ${triangles} triangles.`),
    warnings.length > 0 &&
      h(
        'ul',
        { class: 'warnings' },
        warnings.map((w) => h('li', { key: w.text }, told(w.text))),
      ),
    h(
      'details',
      { class: 'hangs-on' },
      h('summary', null, 'What this hangs on'),
      h(
        'ul',
        null,
        provenance.map((text) => h('li', { key: text }, told(text))),
      ),
    ),
  );
};
