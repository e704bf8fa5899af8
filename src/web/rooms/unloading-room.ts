import { h } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { AfterfireError } from '../../error.ts';
import { BeliefBars } from '../panels/unloading/belief-bars.ts';
import { Facts } from '../panels/unloading/facts.ts';
import { LearnBox } from '../panels/unloading/learn-box.ts';
import { LearnedList } from '../panels/unloading/learned-list.ts';
import { openingCaution } from '../panels/unloading/opening-caution.ts';
import { PieceList } from '../panels/unloading/piece-list.ts';
import { PieceSheet } from '../panels/unloading/piece-sheet.ts';
import { beliefOf } from '../state/foretold.ts';
import { type Desk, learnedFrom, logOf, today, useDesk } from '../state/learning.ts';
import {
  type DraftPiece,
  type DraftUnloading,
  draftOf,
  keepDraftUnloading,
  keptDraftUnloading,
  newDraft,
  newPiece,
  unloadingOf,
} from '../state/unloading-draft.ts';
import { type Degrees, inDegreesApart, inLengths, type Lengths } from '../words.ts';
import type { RoomProps } from './rooms.ts';

/** `#unloading/2026-03-14-front/104`: an unloading that is kept, and a piece of it. */
const asked = (): { readonly key: string | undefined; readonly piece: string | undefined } => {
  const [, key, piece] = location.hash.slice(1).split('/').map(decodeURIComponent);
  return { key, piece };
};

const KeptLinks = ({ desk, open }: { readonly desk: Desk; readonly open: string | undefined }) => {
  const strip = useRef<HTMLElement>(null);
  useEffect(() => {
    strip.current?.querySelector('[aria-current]')?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }, [open]);
  const kept = Object.entries(desk.now().unloadings).sort(([, a], [, b]) => (a.date < b.date ? 1 : -1));
  return h(
    'nav',
    { ref: strip, class: 'kept-unloadings', 'aria-label': 'Unloadings' },
    h('a', { href: '#unloading', 'aria-current': open === undefined ? 'true' : undefined }, 'New unloading'),
    kept.map(([key, { kiln, date }]) =>
      h(
        'a',
        { key, href: `#unloading/${key}`, 'aria-current': key === open ? 'true' : undefined },
        h('time', { dateTime: date }, date),
        ` ${kiln}`,
      ),
    ),
  );
};

/** What an update changed; before any, what is held to begin with. */
const whatWasLearned = (
  desk: Desk,
  draft: DraftUnloading,
  key: string | undefined,
  degrees: Degrees,
  lengths: Lengths,
) => {
  const log = logOf(desk, draft.clay);
  const entry = key === undefined ? undefined : learnedFrom(log, key);
  const before = entry?.before ?? log.start;
  const after = entry?.after ?? beliefOf(log);
  const title = entry
    ? 'What this unloading changed'
    : log.entries.length > 0
      ? 'What was learned so far'
      : 'What is believed to begin with';
  return h(
    'section',
    { class: 'learned', 'aria-label': title },
    h('h2', null, title),
    h('p', { class: 'hint' }, 'Four in five lie within the bar. Pale: before. Dark: now.'),
    log.entries.length === 0 &&
      h('p', { class: 'hint' }, 'Nothing is learned yet: all of this is the clay file and guesses.'),
    log.note !== undefined && h('p', { class: 'hint' }, log.note),
    h(BeliefBars, { before, after, degrees }),
    entry?.contradictions.map((text) =>
      h('p', { key: text, class: 'fault' }, inDegreesApart(inLengths(text, lengths), degrees)),
    ),
    h(LearnedList, { desk, clay: draft.clay, log }),
  );
};

const useDraft = (desk: Desk): [DraftUnloading, (draft: DraftUnloading) => void] => {
  const [draft, set] = useState(
    () => keptDraftUnloading(desk.studio) ?? newDraft(desk.studio, desk.now().unloadings, today()),
  );
  useEffect(() => keepDraftUnloading(draft), [draft]);
  return [draft, set];
};

/** Recording what came out of the kiln, and learning from it. */
export const UnloadingRoom = ({ session }: RoomProps) => {
  const { studio, lengths, degrees } = session.page();
  const desk = useDesk(studio);
  const [own, setOwn] = useDraft(desk);
  const [chosen, setChosen] = useState(0);
  const [faults, setFaults] = useState<readonly string[]>([]);
  const { key: wanted, piece: wantedPiece } = asked();
  const { unloadings } = desk.now();
  const key = wanted !== undefined && unloadings[wanted] ? wanted : undefined;
  const draft = key === undefined ? own : draftOf(unloadings[key], studio);
  const fixed = key !== undefined;
  useEffect(() => {
    setChosen(
      Math.max(0, wantedPiece === undefined ? 0 : draft.pieces.findIndex((p) => p.number === wantedPiece)),
    );
    setFaults([]);
  }, [key, wantedPiece]);
  const at = Math.min(chosen, draft.pieces.length - 1);
  const piece = draft.pieces[at];

  const change = (part: Partial<DraftUnloading>): void => setOwn({ ...own, ...part });
  const changePiece = (part: Partial<DraftPiece>): void =>
    change({ pieces: own.pieces.map((p, i) => (i === at ? { ...p, ...part } : p)) });
  const addPiece = (): void => {
    change({ pieces: [...own.pieces, newPiece(studio, own, unloadings)] });
    setChosen(own.pieces.length);
  };
  const removePiece = (): void => {
    change({ pieces: own.pieces.filter((_, i) => i !== at) });
    setChosen(Math.max(0, at - 1));
  };
  const keepAndLearn = async (): Promise<void> => {
    setFaults([]);
    try {
      const { key: made, kept } = await desk.keep(unloadingOf(own));
      // What the studio did not take stays in the fields, and in this browser.
      if (kept) setOwn({ ...newDraft(studio, desk.now().unloadings, today()), kiln: own.kiln });
      location.hash = `unloading/${made}`;
      await desk.learn([made]);
    } catch (error) {
      setFaults(
        error instanceof AfterfireError && error.faults.length > 0
          ? error.faults.map(
              (f) => `${f.field}: ${f.value === '' ? 'nothing' : f.value} will not do; ${f.expected}`,
            )
          : [String(error)],
      );
    }
  };

  return h(
    'main',
    { class: 'room unloading' },
    h(KeptLinks, { desk, open: key }),
    h(
      'div',
      { class: 'unloading-side' },
      h(Facts, { studio, kept: unloadings, draft, degrees, fixed, change }),
      h(PieceList, {
        studio,
        pieces: draft.pieces,
        chosen: at,
        choose: setChosen,
        add: fixed ? undefined : addPiece,
      }),
      h(LearnBox, {
        desk,
        draft,
        kept: key,
        faults,
        learn: () => (key === undefined ? void keepAndLearn() : void desk.learn([key])),
      }),
      openingCaution(degrees),
    ),
    piece &&
      h(PieceSheet, {
        key: `${key ?? 'new'}-${at}`,
        desk,
        draft,
        piece,
        lengths,
        kept: key,
        change: changePiece,
        remove: !fixed && own.pieces.length > 1 ? removePiece : undefined,
      }),
    whatWasLearned(desk, draft, key, degrees, lengths),
  );
};
