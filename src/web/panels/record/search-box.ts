import { h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Hit } from '../../state/record/answers.ts';
import { type Studio, useAsked } from '../../state/record/ask.ts';
import { PieceTile } from './piece-tile.ts';

/** A search follows the hand this late. */
const REST_ms = 120;

const hitLink = (hit: Hit, studio: Studio) =>
  hit.sort === 'piece'
    ? h(PieceTile, { key: `p${hit.id}`, state: hit.state, studio })
    : h(
        'a',
        { key: `f${hit.id}`, class: 'piece-tile firing', href: `#firing/${hit.id}` },
        h('b', null, hit.state.name ?? `Firing ${hit.id}`),
        h('small', null, hit.state.stage),
      );

/** Finds anything: a number, a form, a month, a place, a word of a note. */
export const SearchBox = ({ studio }: { readonly studio: Studio }) => {
  const [text, setText] = useState('');
  const [asked, setAsked] = useState('');
  useEffect(() => {
    const wait = setTimeout(() => setAsked(text.trim()), REST_ms);
    return () => clearTimeout(wait);
  }, [text]);
  const { value, trouble } = useAsked<{ hits: readonly Hit[] }>(
    asked === '' ? undefined : `/search?q=${encodeURIComponent(asked)}`,
  );
  // What was found last stays until the next answer is there, or the page would flicker at each letter.
  const last = useRef<readonly Hit[] | undefined>(undefined);
  if (value) last.current = value.hits;
  const hits = asked === '' ? undefined : (value?.hits ?? last.current);
  const shown = hits?.length ?? 0;
  return h(
    'search',
    { class: 'search-box' },
    h(
      'label',
      null,
      h('span', null, 'Find anything'),
      h('input', {
        type: 'search',
        value: text,
        maxLength: 200,
        autocomplete: 'off',
        placeholder: 'number, form, month, place, a word of yours',
        'data-field': 'search',
        onInput: (event: Event) => setText((event.target as HTMLInputElement).value),
        onKeyDown: (event: KeyboardEvent) => {
          if (event.key === 'Escape') setText('');
        },
      }),
    ),
    h(
      'p',
      { role: 'status', class: 'hint', 'data-found': hits ? shown : undefined },
      trouble ??
        (hits
          ? shown === 0
            ? `Nothing is found for “${asked}”.`
            : `${shown === 50 ? 'The first 50' : shown} found`
          : ''),
    ),
    hits &&
      h(
        'div',
        { class: 'piece-tiles' },
        hits.map((hit) => hitLink(hit, studio)),
      ),
  );
};
