import { h } from 'preact';
import type { PieceState } from '../../../making/record/piece-state.ts';
import { pieceLink, type Studio } from '../../state/record/ask.ts';
import { silhouette } from '../unloading/silhouette.ts';
import { shortDay } from './entry-words.ts';
import { smallSource } from './photos-and-notes.ts';

/** A photo of the piece, after the fire if there is one; else the form it is made to. */
export const pieceImage = (state: PieceState, studio: Studio, alt = '') => {
  const photo = state.photosAfter.at(-1) ?? state.photos.at(-1);
  if (photo !== undefined)
    return h('img', { src: smallSource(photo), alt, loading: 'lazy', decoding: 'async' });
  const form = studio.formOf(state.form);
  return form
    ? silhouette(form.json, { attitude: 'upright', lean_deg: 0 })
    : h('span', { class: 'no-image', 'aria-hidden': true }, '?');
};

/** A sale says its day: a search for a month finds whatever happened then, not sales alone. */
const briefly = ({ stage, stands, loss, sale }: PieceState, { settings }: Studio): string => {
  if (stands === 'lost') return `lost: ${loss?.cause ?? ''}`;
  if (stands === 'sold' && sale)
    return `sold ${shortDay(sale.at_utc, settings.zone, new Date().toISOString())}`;
  return stands === 'in the studio' ? stage : stands;
};

/** A piece as a picture to tap. */
export const PieceTile = ({
  state,
  studio,
  line,
}: {
  readonly state: PieceState;
  readonly studio: Studio;
  /** Instead of where it stands. */
  readonly line?: string | undefined;
}) =>
  h(
    'a',
    { class: `piece-tile${state.stands === 'lost' ? ' lost' : ''}`, href: pieceLink(state.number) },
    h('span', { class: 'picture' }, pieceImage(state, studio)),
    h('b', null, state.number),
    h('small', null, line ?? briefly(state, studio)),
  );
