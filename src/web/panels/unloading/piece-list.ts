import { h } from 'preact';
import type { Studio } from '../../state/page.ts';
import type { DraftPiece } from '../../state/unloading-draft.ts';
import { ATTITUDE_NAMES } from './piece-tiles.ts';
import { silhouette } from './silhouette.ts';

const toldOf = (piece: DraftPiece): string => {
  if (piece.loss) return `lost: ${piece.loss.cause}`;
  const count = Object.keys(piece.values).length;
  const parts = [
    count > 0 ? `${count} ${count === 1 ? 'measure' : 'measures'}` : '',
    piece.outline ? 'a photograph' : '',
  ].filter((part) => part !== '');
  return parts.length > 0 ? parts.join(', ') : 'nothing measured yet';
};

/** The pieces of an unloading; tap one to work on it. */
export const PieceList = ({
  studio,
  pieces,
  chosen,
  choose,
  add,
}: {
  readonly studio: Studio;
  readonly pieces: readonly DraftPiece[];
  readonly chosen: number;
  readonly choose: (i: number) => void;
  readonly add?: (() => void) | undefined;
}) =>
  h(
    'section',
    { class: 'unloaded-pieces', 'aria-label': 'Pieces' },
    h('h2', null, 'Pieces'),
    h(
      'ul',
      null,
      pieces.map((piece, i) => {
        const form = studio.forms[piece.form];
        return h(
          'li',
          { key: piece.number },
          h(
            'button',
            {
              type: 'button',
              'aria-pressed': i === chosen,
              'data-piece': piece.number,
              onClick: () => choose(i),
            },
            form && silhouette(form, piece.setting),
            h(
              'span',
              null,
              h('b', null, piece.number),
              ` ${form?.name ?? piece.form}`,
              h('small', null, `${ATTITUDE_NAMES[piece.setting.attitude].toLowerCase()} · ${toldOf(piece)}`),
            ),
          ),
        );
      }),
    ),
    add && h('button', { type: 'button', 'data-do': 'add-piece', onClick: add }, 'Another piece'),
  );
