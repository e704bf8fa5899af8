import { h } from 'preact';
import { useState } from 'preact/hooks';
import { PieceTile } from '../../panels/record/piece-tile.ts';
import { PrintLabels } from '../../panels/record/print-papers.ts';
import { SearchBox } from '../../panels/record/search-box.ts';
import type { Piece } from '../../state/record/answers.ts';
import { askRecord, inWords, type Studio, useAsked } from '../../state/record/ask.ts';

const WHICH: readonly (readonly [path: string, name: string])[] = [
  ['', 'All'],
  ['stage=drying&stands=in the studio', 'Drying'],
  ['stage=bone dry&stands=in the studio', 'Bone dry'],
  ['stage=set', 'In the kiln'],
  ['stage=unloaded&stands=in the studio', 'Out of the kiln'],
  ['stage=finished&stands=in the studio', 'Finished'],
  ['stands=shown', 'Shown'],
  ['stands=on consignment', 'On consignment'],
  ['stands=sold', 'Sold'],
  ['stands=lost', 'Lost'],
];
const PAGE = 60;

/** Every piece as a picture, newest first, by where it stands. */
export const PieceList = ({ studio }: { readonly studio: Studio }) => {
  const [which, setWhich] = useState('');
  const [more, setMore] = useState<{ of: string; pieces: readonly Piece[]; end: boolean }>();
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const path = `/pieces?most=${PAGE}&${encodeURI(which)}`;
  const { value, trouble: notListed } = useAsked<{ pieces: readonly Piece[] }>(path);
  const first = value?.pieces ?? [];
  const added = more?.of === path ? more : { pieces: [], end: first.length < PAGE };
  const pieces = [...first, ...added.pieces];
  const showMore = async (): Promise<void> => {
    try {
      const next = await askRecord<{ pieces: Piece[] }>(`${path}&before=${pieces.at(-1)?.id ?? 0}`);
      setMore({ of: path, pieces: [...added.pieces, ...next.pieces], end: next.pieces.length < PAGE });
    } catch (error) {
      setTrouble(inWords(error));
    }
  };
  const wrong = trouble ?? notListed;
  return h(
    'main',
    { class: 'room piece-list' },
    h(
      'div',
      { class: 'row' },
      h('h1', null, 'Pieces'),
      h('span', { class: 'spring' }),
      h('a', { class: 'button main', href: '#new-piece' }, 'New piece'),
    ),
    h(SearchBox, { studio }),
    h(
      'div',
      { class: 'row filters', role: 'group', 'aria-label': 'Which pieces' },
      WHICH.map(([key, name]) =>
        h(
          'button',
          { key, type: 'button', class: 'tick', 'aria-pressed': key === which, onClick: () => setWhich(key) },
          name,
        ),
      ),
    ),
    pieces.length > 0 && h(PrintLabels, { pieces, studio }),
    wrong !== undefined && h('p', { class: 'wrong', role: 'alert' }, wrong),
    value && pieces.length === 0 && h('p', { class: 'hint' }, 'There is none such.'),
    h(
      'div',
      { class: 'piece-tiles' },
      pieces.map(({ id, state }) => h(PieceTile, { key: id, state, studio })),
    ),
    value &&
      !added.end &&
      h('button', { type: 'button', 'data-do': 'more-pieces', onClick: () => void showMore() }, 'More'),
  );
};
