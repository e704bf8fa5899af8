import { h } from 'preact';
import { useState } from 'preact/hooks';
import { type Foresight, useForesight } from '../../state/foreseen.ts';
import { beliefOf, type Foretold, foretold } from '../../state/foretold.ts';
import { type Desk, learnedFrom, logOf } from '../../state/learning.ts';
import type { DraftPiece, DraftUnloading } from '../../state/unloading-draft.ts';
import type { Lengths } from '../../words.ts';
import type { OutlineRead } from '../../worker/photo-jobs.ts';
import { MeasureFields } from './measure-fields.ts';
import { outlineDrawing } from './outline-drawing.ts';
import { PhotoDesk } from './photo-desk.ts';
import { becameTiles, formTiles, settingTiles } from './piece-tiles.ts';

interface Props {
  readonly desk: Desk;
  readonly draft: DraftUnloading;
  readonly piece: DraftPiece;
  readonly lengths: Lengths;
  /** Key of the unloading, where it is a kept one: only to be looked at. */
  readonly kept: string | undefined;
  readonly change: (part: Partial<DraftPiece>) => void;
  readonly remove: (() => void) | undefined;
}

/** What was predicted before it was learned from; for a piece not yet learned from, what is predicted now. */
const foretoldOf = (props: Props, foresight: Foresight | undefined): Foretold | undefined => {
  const { desk, draft, piece, kept } = props;
  if (!desk.studio.clays[draft.clay]) return undefined;
  const log = logOf(desk, draft.clay);
  const entry = kept === undefined ? undefined : learnedFrom(log, kept);
  const before = foresight?.kind === 'there' ? foresight.foreseen : undefined;
  if (!entry) return before && foretold(before, beliefOf(log), draft.kiln, piece.plusMinus_mm);
  const now = before && foretold(before, entry.before, draft.kiln, piece.plusMinus_mm);
  const then = entry.predictions
    .filter((p) => p.piece === piece.number)
    .map((p) => [p.key, p.before] as const);
  return { fall: now?.fall ?? 0, measures: { ...now?.measures, ...Object.fromEntries(then) } };
};

const fallTold = ({ fall }: Foretold): string | undefined =>
  fall < 0.02 ? undefined : `Predicted: it falls with a chance of ${Math.round(100 * fall)} %.`;

const waitingText = (foresight: Foresight | undefined): string =>
  foresight?.kind === 'running' ? `foreseeing it, ${Math.round(100 * foresight.fraction)} %` : '';

/** One piece: what it is, how it stood, what became of it, what was measured beside what was foreseen. */
export const PieceSheet = (props: Props) => {
  const { desk, draft, piece, lengths, kept, change, remove } = props;
  const { studio } = desk;
  const fixed = kept !== undefined;
  const [photo, setPhoto] = useState(false);
  const foresight = useForesight(desk, draft, piece);
  const told = foretoldOf(props, foresight);
  const form = studio.forms[piece.form];
  const foreseen = foresight?.kind === 'there' ? foresight.foreseen : undefined;

  const takeOutline = ({ outline }: OutlineRead): void => {
    change({ outline });
    setPhoto(false);
  };
  const picture = foreseen?.outline_m
    ? outlineDrawing(foreseen.outline_m, piece, lengths)
    : h(
        'p',
        { class: 'no-picture', role: 'status' },
        foresight?.kind === 'refused'
          ? `This piece cannot stand so: ${foresight.why}`
          : foreseen
            ? 'By what is believed of clay and kiln it falls.'
            : `Foreseeing it… ${foresight?.kind === 'running' ? Math.round(100 * foresight.fraction) : 0} %`,
      );
  return h(
    'section',
    { class: 'piece-sheet', 'aria-label': `Piece ${piece.number}` },
    h(
      'div',
      { class: 'row head' },
      fixed
        ? h('h2', null, `Piece ${piece.number}`)
        : h(
            'label',
            { class: 'piece-number' },
            'Piece number',
            h('input', {
              type: 'text',
              maxLength: 40,
              value: piece.number,
              'data-field': 'piece.number',
              onChange: (event: Event) => change({ number: (event.target as HTMLInputElement).value.trim() }),
            }),
          ),
      h('span', { class: 'spring' }),
      remove &&
        h('button', { type: 'button', 'data-do': 'remove-piece', onClick: remove }, 'Leave this piece out'),
    ),
    form
      ? h(
          'div',
          { class: 'what-it-is' },
          formTiles(studio, piece, change, fixed),
          settingTiles(studio, piece, change, fixed),
        )
      : h(
          'p',
          { class: 'fault' },
          `${piece.form}: this form is no longer among those of the studio. What was learned from the piece stands.`,
        ),
    becameTiles(piece, change, fixed),
    photo && form
      ? h(PhotoDesk, {
          piece,
          form,
          wall: foreseen?.wall,
          lengths,
          take: takeOutline,
          close: () => setPhoto(false),
        })
      : h(
          'div',
          { class: 'beside-measures' },
          h(
            'div',
            { class: 'foreseen-picture' },
            form && picture,
            told && fallTold(told) && h('p', { class: 'wrong' }, fallTold(told)),
            !fixed &&
              h(
                'div',
                { class: 'row' },
                h(
                  'button',
                  { type: 'button', 'data-do': 'photo', onClick: () => setPhoto(true) },
                  'From a photograph…',
                ),
                piece.outline &&
                  h(
                    'button',
                    { type: 'button', onClick: () => change({ outline: undefined }) },
                    'Without the photograph',
                  ),
              ),
            piece.outline &&
              h(
                'p',
                { class: 'hint', 'data-said': 'outline-taken' },
                'The outline from the photograph is learned from as it is; its height and widths need not be typed too.',
              ),
          ),
          h(MeasureFields, {
            piece,
            foretold: told,
            waiting: waitingText(foresight),
            lengths,
            fixed,
            change,
          }),
        ),
  );
};
