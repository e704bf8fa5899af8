import { h } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Entry } from '../../../making/record/entry.ts';
import type { KindName } from '../../../making/record/kinds.ts';
import { EntrySheet } from '../../panels/record/entry-sheet.ts';
import { KIND_TITLES, type Sayer, stateLine } from '../../panels/record/entry-words.ts';
import { JournalList } from '../../panels/record/journal-list.ts';
import { LifeLine } from '../../panels/record/life-line.ts';
import { MeasuresByStage } from '../../panels/record/measures-by-stage.ts';
import { NextSteps } from '../../panels/record/next-steps.ts';
import { Notes, PhotoWall } from '../../panels/record/photos-and-notes.ts';
import { pieceImage } from '../../panels/record/piece-tile.ts';
import { PrintPiece } from '../../panels/record/print-papers.ts';
import { withStudio } from '../../panels/record/with-studio.ts';
import type { Session } from '../../session.ts';
import type { Units } from '../../state/record/amount.ts';
import type { PieceTold } from '../../state/record/answers.ts';
import { askRecord, inWords, partsOfAddress, type Studio, useAsked } from '../../state/record/ask.ts';
import { keptEntryDraft } from '../../state/record/entry-draft.ts';
import { handIn, handInPhoto } from '../../state/record/hand-in.ts';
import type { RoomProps } from '../rooms.ts';
import { PieceList } from './piece-list.ts';

/** The studio's own units, with lengths and degrees as the switches of the page have them. */
export const unitsOf = (session: Session, { settings }: Studio): Units => {
  const { lengths, degrees } = session.page();
  return { lengths, degrees, weights: settings.weights, currency: settings.currency };
};

const sayerOf = (told: PieceTold, studio: Studio, units: Units): Sayer => ({
  units,
  firingName: (id) => told.firings.find((firing) => firing.id === id)?.state.name ?? 'the kiln',
  sheetName: (id) =>
    studio.formOf(id)?.name ?? studio.clays.find((clay) => clay.id === id)?.name ?? `sheet ${id}`,
});

interface Open {
  readonly kind: KindName;
  readonly corrects?: Entry | undefined;
}

/** A sheet that was being typed when the page was closed is open again. */
const kept = ({ piece, entries }: PieceTold): Open | undefined => {
  const draft = keptEntryDraft(piece.id);
  return draft && { kind: draft.kind, corrects: entries.find(({ id }) => id === draft.undoes) };
};

const OnePiece = ({
  told,
  studio,
  session,
  again,
}: {
  readonly told: PieceTold;
  readonly studio: Studio;
  readonly session: Session;
  readonly again: () => Promise<void>;
}) => {
  const [open, setOpen] = useState<Open | undefined>(() => kept(told));
  const [said, setSaid] = useState<string | undefined>(undefined);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const places = useAsked<{ places: readonly string[] }>('/places');
  const { piece, entries } = told;
  const { state, id } = piece;
  const { zone } = studio.settings;
  const now_utc = new Date().toISOString();
  const units = unitsOf(session, studio);
  const sayer = sayerOf(told, studio, units);
  const form = studio.formOf(state.form);
  const number = state.number ?? '';

  const doing = async (work: () => Promise<string>): Promise<void> => {
    setTrouble(undefined);
    try {
      const words = await work();
      await again();
      setSaid(words);
    } catch (error) {
      setTrouble(inWords(error));
    }
  };
  const undo = (batch: number): void =>
    void doing(async () => {
      const { entries: undone } = await askRecord<{ entries: Entry[] }>('/undo', 'POST', { batch, zone });
      const target = entries.find(({ id: entry }) => entry === undone[0]?.undoes);
      return target?.kind === 'undone'
        ? 'Brought back.'
        : `Taken back: ${KIND_TITLES[target?.kind ?? 'noted']}.`;
    });
  const photo = (file: File): void =>
    void doing(async () => {
      await handInPhoto(id, zone, file);
      return 'The photo is kept.';
    });
  const recorded = (entry: Entry): void => {
    setOpen(undefined);
    void places.again();
    // A corrected number is the piece's new address.
    const renamed = entry.kind === 'begun' && entry.data.number !== number;
    if (renamed) location.hash = `piece/${encodeURIComponent(String(entry.data.number))}`;
    void doing(async () => `Recorded: ${KIND_TITLES[entry.kind]}.`);
  };
  useEffect(() => {
    if (said !== undefined && !open)
      document
        .querySelector<HTMLElement>('.next-steps button, .next-steps a')
        ?.focus({ preventScroll: true });
  }, [said, open]);

  return h(
    'main',
    { class: 'room one-piece', 'data-stage': state.stage, 'data-stands': state.stands },
    h(
      'div',
      { class: 'piece-head' },
      h('div', { class: 'picture' }, pieceImage(state, studio, `${number}, photo`)),
      h(
        'div',
        null,
        h('h1', null, number, state.title ? ` ${state.title}` : ''),
        h(
          'p',
          null,
          form ? h('a', { href: `#family/${form.form}` }, form.name) : 'No form said',
          state.clay === undefined ? '' : `, ${sayer.sheetName(state.clay)}`,
        ),
        h('p', { class: 'state-line' }, stateLine(state, sayer.firingName(state.firing), zone, now_utc)),
      ),
    ),
    h(LifeLine, { state, entries, form, zone, now_utc }),
    h('div', { class: 'said-line', role: 'status' }, said !== undefined && !open && h('span', null, said)),
    trouble !== undefined &&
      h('div', { class: 'not-saved', role: 'alert' }, h('b', null, 'Not recorded. '), trouble),
    open
      ? h(EntrySheet, {
          key: `${open.kind}-${open.corrects?.id ?? 0}`,
          told,
          ...open,
          studio,
          units,
          places: places.value?.places ?? [],
          recorded,
          cancel: () => setOpen(undefined),
        })
      : h(NextSteps, { told, choose: (kind) => setOpen({ kind }), photo }),
    h(
      'div',
      { class: 'piece-columns' },
      h(
        'div',
        null,
        h(MeasuresByStage, { state, units }),
        h(PhotoWall, { state, number, take: photo }),
        h(Notes, {
          entries,
          zone,
          keep: async (note, frame) => {
            await handIn({ piece: id, kind: 'noted', data: {}, note, zone, ...frame });
            await again();
          },
        }),
        h(PrintPiece, { piece, studio }),
      ),
      h(JournalList, {
        entries,
        sayer,
        zone,
        undo,
        correct: (entry) => setOpen({ kind: entry.kind, corrects: entry }),
      }),
    ),
  );
};

const NumberedPiece = ({
  number,
  studio,
  session,
}: {
  readonly number: string;
  readonly studio: Studio;
  readonly session: Session;
}) => {
  const { value, trouble, again } = useAsked<PieceTold>(`/numbered/${encodeURIComponent(number)}`);
  if (!value)
    return h(
      'main',
      { class: 'room' },
      h('h1', null, number),
      trouble === undefined
        ? h('p', { class: 'hint' }, 'One moment…')
        : [
            h('p', { key: 'w', class: 'wrong', role: 'alert' }, trouble),
            h('p', { key: 'a' }, h('a', { class: 'button', href: '#piece' }, 'All pieces')),
          ],
    );
  return h(OnePiece, { key: value.piece.id, told: value, studio, session, again });
};

/** `#piece`: all of them; `#piece/R-104`: that one. */
export const PieceRoom = ({ session }: RoomProps) =>
  withStudio((studio) => {
    const [number] = partsOfAddress();
    return number ? h(NumberedPiece, { key: number, number, studio, session }) : h(PieceList, { studio });
  });
