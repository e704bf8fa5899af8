import { h } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { WallMesh } from '../../../kernel/mesh/mesh.ts';
import type { Form } from '../../../making/form/form.ts';
import type { CameraKnown } from '../../../making/photo/camera.ts';
import type { Point } from '../../../making/photo/homography.ts';
import { takePhotograph } from '../../../making/photo/photo-protocol.ts';
import { SCALE_CARDS, type ScaleCard } from '../../../making/photo/scale-card.ts';
import { type Paper, scaleCardSvg } from '../../../making/photo/scale-card-svg.ts';
import type { DraftPiece } from '../../state/unloading-draft.ts';
import { brief, type Lengths, lengthReading, numberTyped, readWithUnit } from '../../words.ts';
import type { OutlineRead } from '../../worker/photo-jobs.ts';
import { saveText } from '../save.ts';
import { PhotoPicture } from './photo-picture.ts';
import { type PhotoHand, usePhoto } from './photo-state.ts';

/** What a hand is asked to point at. */
type Pointing =
  | { readonly what: 'piece' }
  | { readonly what: 'discs'; readonly card: ScaleCard; readonly at: readonly Point[] };

const CORNERS = ['lower left', 'lower right', 'upper right', 'upper left'] as const;
const isRound = (form: Form): boolean => form.alterations.length === 0 && form.carving.length === 0;

const cardButtons = () =>
  (['A4', 'Letter'] as const satisfies readonly Paper[]).map((paper) =>
    h(
      'button',
      {
        key: paper,
        type: 'button',
        'data-do': `scale-card-${paper}`,
        onClick: () => saveText(scaleCardSvg(paper), `scale-card-${paper}.svg`),
      },
      `Scale card, ${paper}`,
    ),
  );

const howTo = () =>
  h(
    'details',
    { class: 'photo-how' },
    h('summary', null, takePhotograph.title),
    h(
      'ol',
      null,
      takePhotograph.steps.map((step) => h('li', { key: step }, step)),
    ),
    h('div', { class: 'row' }, cardButtons()),
  );

const pictureInput = (open: (file: File) => void, words: string) =>
  h(
    'label',
    { class: 'button' },
    words,
    h('input', {
      type: 'file',
      accept: 'image/*',
      class: 'unseen',
      'data-field': 'photo',
      'aria-label': 'A photograph of the piece beside its scale card',
      onChange: (event: Event) => {
        const input = event.target as HTMLInputElement;
        const file = input.files?.[0];
        input.value = '';
        if (file) open(file);
      },
    }),
  );

/** How what came out differs from what was foreseen, in a line. */
const differenceTold = (read: OutlineRead | undefined, lengths: Lengths): string => {
  const reading = lengthReading(lengths);
  const { difference, measures } = read ?? {};
  if (!measures) return 'Reading the outline…';
  const size = `${readWithUnit(measures.height_m, reading)} high, ${readWithUnit(measures.widest_m, reading)} wide`;
  if (!difference) return `${size}.`;
  const { greatest_m, greatestAt, placed_m, rms_m } = difference;
  const at = readWithUnit(Math.max(0, placed_m[2 * greatestAt + 1]), reading);
  return `${size}. Most off ${at} above the shelf: ${readWithUnit(Math.abs(greatest_m), reading)} ${greatest_m > 0 ? 'outside' : 'inside'} the foreseen line; all round ${readWithUnit(rms_m, reading)} in the mean.`;
};

const troubles = (hand: PhotoHand, setPointing: (p: Pointing) => void) => {
  const list = hand.found?.troubles ?? [];
  if (hand.trouble) return h('p', { class: 'fault', role: 'alert' }, hand.trouble);
  return list.map(({ kind, text }) =>
    h(
      'div',
      { key: kind, class: 'fault', role: 'alert', 'data-photo-trouble': kind },
      h('p', null, text.charAt(0).toUpperCase(), text.slice(1), '.'),
      kind === 'no-scale' &&
        h(
          'div',
          { class: 'row' },
          SCALE_CARDS.map((card) =>
            h(
              'button',
              {
                key: card.name,
                type: 'button',
                onClick: () => setPointing({ what: 'discs', card, at: [] }),
              },
              `Point out the ${card.name} card`,
            ),
          ),
        ),
      kind === 'no-piece' &&
        h('button', { type: 'button', onClick: () => setPointing({ what: 'piece' }) }, 'Point to the piece'),
    ),
  );
};

interface Props {
  readonly piece: DraftPiece;
  readonly form: Form;
  readonly wall: WallMesh | undefined;
  readonly lengths: Lengths;
  /** An outline that is right, with what it measures; or none any more. */
  readonly take: (read: OutlineRead) => void;
  readonly close: () => void;
}

/** A photograph in place of measures: outline found, pulled right by hand, compared, taken. */
export const PhotoDesk = ({ piece, form, wall, lengths, take, close }: Props) => {
  const [pointing, setPointing] = useState<Pointing | undefined>(undefined);
  const [far, setFar] = useState('');
  const [from_deg, setFrom] = useState(0);
  const [noted, setNoted] = useState<number | undefined>(undefined);
  const typed = numberTyped(far);
  const distance_m = typed === undefined ? undefined : lengths === 'mm' ? typed / 1000 : typed * 0.0254;
  const lens = noted === undefined ? undefined : { lens35_m: noted };
  const camera: CameraKnown | undefined = distance_m === undefined ? lens : { distance_m };
  const round = isRound(form) && piece.setting.attitude !== 'on its side';
  const hand = usePhoto({ from_deg, camera, round, wall });
  const { photo, found, outline, drags, read, busy } = hand;
  useEffect(() => setNoted(photo?.lens35_m), [photo]);

  const pointAt = (at: Point): void => {
    if (pointing?.what === 'piece') {
      setPointing(undefined);
      hand.find({ piece_px: at });
    } else if (pointing) {
      const all = [...pointing.at, at];
      const enough = all.length === CORNERS.length;
      setPointing(enough ? undefined : { ...pointing, at: all });
      if (enough) hand.find({ discs: { card: pointing.card, middles_px: all } });
    }
  };
  const asked =
    pointing &&
    (pointing.what === 'piece' ? 'Tap the piece.' : `Tap the ${CORNERS[pointing.at.length]} disc.`);
  const unit = lengths === 'mm' ? 'mm' : 'in';
  return h(
    'section',
    { class: 'photo-desk', 'aria-label': 'Photograph' },
    h(
      'div',
      { class: 'row' },
      pictureInput(hand.open, photo ? 'Another photograph…' : 'Choose a photograph…'),
      drags.length > 0 &&
        h(
          'button',
          { type: 'button', 'data-do': 'unpull', onClick: () => hand.pull(drags.slice(0, -1)) },
          'Undo the last pull',
        ),
      outline &&
        h('button', { type: 'button', onClick: () => setPointing({ what: 'piece' }) }, 'Not the piece'),
      h('span', { class: 'spring' }),
      h('button', { type: 'button', onClick: close }, 'Close'),
    ),
    !photo && howTo(),
    h(
      'p',
      { role: 'status', class: 'hint' },
      busy === 'opening' ? 'Opening…' : busy === 'finding' ? 'Finding the outline…' : (asked ?? ''),
    ),
    troubles(hand, setPointing),
    photo &&
      h(PhotoPicture, {
        photo,
        toPicture: found?.card?.toPicture,
        outline,
        drags,
        read,
        pull: hand.pull,
        point: pointing && pointAt,
        pointed: pointing?.what === 'discs' ? pointing.at : [],
      }),
    outline &&
      h(
        'div',
        { class: 'photo-said' },
        h(
          'div',
          { class: 'keys', 'aria-hidden': true },
          h('span', { class: 'found' }, 'photographed'),
          h('span', { class: 'foreseen' }, 'foreseen'),
        ),
        h('p', { 'data-said': 'difference' }, differenceTold(read, lengths)),
        h(
          'div',
          { class: 'row' },
          h(
            'label',
            { class: 'fact' },
            `From lens to card, ${unit}`,
            h('input', {
              type: 'text',
              inputMode: 'decimal',
              value: far,
              placeholder: noted === undefined ? 'not known' : `lens ${brief(1000 * noted, 0)} mm noted`,
              'data-field': 'photo.distance',
              onChange: (event: Event) => setFar((event.target as HTMLInputElement).value),
            }),
          ),
          h(
            'label',
            { class: 'fact' },
            'Seen from, degrees',
            h('input', {
              type: 'text',
              inputMode: 'decimal',
              value: String(from_deg),
              'data-field': 'photo.from',
              onChange: (event: Event) => setFrom(numberTyped((event.target as HTMLInputElement).value) ?? 0),
            }),
          ),
          h(
            'button',
            {
              type: 'button',
              class: 'main',
              disabled: read === undefined,
              'data-do': 'take-outline',
              onClick: () => read && take(read),
            },
            'Take this outline',
          ),
        ),
        camera === undefined &&
          h(
            'p',
            { class: 'hint' },
            'Without a distance round pieces look too wide; the outline is then trusted less.',
          ),
      ),
  );
};
