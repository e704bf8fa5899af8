import { h } from 'preact';
import { useState } from 'preact/hooks';
import type { Entry } from '../../../making/record/entry.ts';
import { KINDS, LOSS_CAUSES } from '../../../making/record/kinds.ts';
import type { PieceState } from '../../../making/record/piece-state.ts';
import { standing } from '../../../making/record/standing.ts';
import { KIND_TITLES, sayMoment, sayWhen } from '../../panels/record/entry-words.ts';
import { nextName } from '../../panels/record/firing-choice.ts';
import { FiringNotes } from '../../panels/record/firing-notes.ts';
import { pieceImage } from '../../panels/record/piece-tile.ts';
import { withStudio } from '../../panels/record/with-studio.ts';
import { openingCaution } from '../../panels/unloading/opening-caution.ts';
import { amountText, type Units } from '../../state/record/amount.ts';
import type { Firing, FiringTold, Piece } from '../../state/record/answers.ts';
import {
  askRecord,
  inWords,
  newUid,
  partsOfAddress,
  pieceLink,
  type Studio,
  useAsked,
} from '../../state/record/ask.ts';
import type { RoomProps } from '../rooms.ts';
import { unitsOf } from './piece-room.ts';

type Step = 'lit' | 'off' | 'opened';

/** A firing that will not be: only while nothing stands in it. */
const callOff = (firing: number, zone: string): Promise<unknown> =>
  askRecord('/entries', 'POST', {
    entries: [{ firing, kind: 'called off', at_utc: new Date().toISOString(), zone, uid: newUid() }],
  });
const NEXT: Readonly<Record<string, readonly [Step, string]>> = {
  planned: ['lit', 'The kiln is on'],
  lit: ['off', 'The kiln is off'],
  off: ['opened', 'Opened: record what came out'],
};

/** Per piece: '' as nothing is said, else how it came, or `lost: cause`. */
type Became = Readonly<Record<number, string>>;

const foundOf = (became: Became) =>
  Object.entries(became).flatMap(([piece, said]) => {
    if (said === '') return [];
    return [
      { piece: Number(piece), ...(said.startsWith('lost: ') ? { lost: said.slice(6) } : { came: said }) },
    ];
  });

const becameChoice = (piece: number, state: PieceState, became: Became, set: (next: Became) => void) =>
  h(
    'select',
    {
      value: became[piece] ?? '',
      'aria-label': `How ${state.number} came out`,
      'data-field': `became.${state.number}`,
      onChange: (event: Event) => set({ ...became, [piece]: (event.target as HTMLSelectElement).value }),
    },
    h('option', { value: '' }, 'came out'),
    ['as wanted', 'with a flaw'].map((came) => h('option', { key: came, value: came }, `came out ${came}`)),
    LOSS_CAUSES.map((cause) => h('option', { key: cause, value: `lost: ${cause}` }, `lost: ${cause}`)),
  );

const loadList = (
  load: readonly Piece[],
  studio: Studio,
  opening: boolean,
  became: Became,
  set: (next: Became) => void,
) =>
  load.length === 0
    ? h('p', { class: 'hint' }, 'Nothing stands in it now.')
    : h(
        'ul',
        { class: 'load-list' },
        load.map(({ id, state }) =>
          h(
            'li',
            { key: id },
            h(
              'a',
              { href: pieceLink(state.number) },
              h('span', { class: 'picture' }, pieceImage(state, studio)),
              h('b', null, state.number),
              h(
                'small',
                null,
                [state.shelf === undefined ? '' : `shelf ${state.shelf}`, state.attitude ?? '']
                  .filter((text) => text !== '')
                  .join(', '),
              ),
            ),
            opening && becameChoice(id, state, became, set),
          ),
        ),
      );

/** What happened in it, in the order of time. */
const firingLine = (entries: readonly Entry[], zone: string, units: Units) =>
  h(
    'ol',
    { class: 'firing-line' },
    standing(entries).map(({ id, kind, at_utc, note, data }) =>
      h(
        'li',
        { key: id, 'data-kind': kind },
        h('time', null, sayMoment(at_utc, zone)),
        kind === 'read'
          ? ` ${amountText('temperature_C', Number(data.temperature_C), units)} by the thermometer`
          : ` ${KINDS[kind].says}`,
        note && h('q', null, note),
      ),
    ),
  );

const OneFiring = ({
  told,
  studio,
  units,
  again,
}: {
  readonly told: FiringTold;
  readonly studio: Studio;
  readonly units: Units;
  readonly again: () => Promise<void>;
}) => {
  const { firing, load, entries } = told;
  const { state } = firing;
  const { zone } = studio.settings;
  const [became, setBecame] = useState<Became>({});
  const [sent, setSent] = useState<{ of: string; uid: string; at_utc: string } | undefined>(undefined);
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const next = NEXT[state.stage];
  const opening = state.stage === 'off';
  const take = async (step: Step): Promise<void> => {
    const found = foundOf(became);
    const of = JSON.stringify([step, found]);
    const frame = sent?.of === of ? sent : { of, uid: newUid(), at_utc: new Date().toISOString() };
    setSent(frame);
    setTrouble(undefined);
    try {
      const { uid, at_utc } = frame;
      const body = { uid, at_utc, zone, ...(step === 'opened' ? { found } : {}) };
      await askRecord(`/firings/${firing.id}/${step}`, 'POST', body);
      await again();
    } catch (error) {
      setTrouble(inWords(error));
    }
  };
  const doing = async (work: Promise<unknown>): Promise<void> => {
    setTrouble(undefined);
    try {
      await work;
      await again();
    } catch (error) {
      setTrouble(inWords(error));
    }
  };
  const gone = new Set(entries.flatMap(({ undoes }) => undoes ?? []));
  const last = entries
    .filter(({ id, kind }) => !gone.has(id) && kind !== 'undone' && kind !== 'planned')
    .at(-1);
  const pieces = [
    h('h2', { key: 'h' }, opening || state.stage === 'opened' ? 'What came out' : 'What stands in it'),
    state.stage === 'opened'
      ? h('p', { key: 'p', class: 'hint' }, 'Each piece says on its own page what became of it.')
      : loadList(load, studio, opening, became, setBecame),
  ];
  return h(
    'main',
    { class: 'room one-firing', 'data-stage': state.stage },
    h('h1', null, state.name ?? `Firing ${firing.id}`),
    h(
      'p',
      { class: 'state-line' },
      `${state.stage === 'lit' ? 'Running' : opening ? 'Cooling' : state.stage}, ${firing.pieces} pieces`,
    ),
    firingLine(entries, zone, units),
    opening ? openingCaution(units.degrees) : next && h('p', { class: 'hint' }, KINDS[next[0]].caution),
    // What came out is said before the button that records it.
    opening && pieces,
    trouble !== undefined &&
      h('div', { class: 'not-saved', role: 'alert' }, h('b', null, 'Not recorded. '), trouble),
    h(
      'div',
      { class: 'row' },
      next &&
        h(
          'button',
          { type: 'button', class: 'main big', 'data-do': next[0], onClick: () => void take(next[0]) },
          next[1],
        ),
      state.stage === 'planned' &&
        load.length === 0 &&
        h(
          'button',
          { type: 'button', 'data-do': 'call-off', onClick: () => void doing(callOff(firing.id, zone)) },
          'Call it off',
        ),
      last &&
        h(
          'button',
          {
            type: 'button',
            'data-do': 'undo-step',
            onClick: () => void doing(askRecord('/undo', 'POST', { batch: last.batch, zone })),
          },
          `Take back: ${KIND_TITLES[last.kind]}`,
        ),
    ),
    state.stage !== 'called off' && h(FiringNotes, { firing, zone, units, again }),
    !opening && pieces,
  );
};

const OnePage = ({
  id,
  studio,
  units,
}: {
  readonly id: string;
  readonly studio: Studio;
  readonly units: Units;
}) => {
  const { value, trouble, again } = useAsked<FiringTold>(`/firings/${encodeURIComponent(id)}`);
  return value
    ? h(OneFiring, { told: value, studio, units, again })
    : h(
        'main',
        { class: 'room' },
        h('h1', null, 'Firing'),
        h('p', { role: 'status' }, trouble ?? 'One moment…'),
      );
};

const AllFirings = ({ studio }: { readonly studio: Studio }) => {
  const { value, trouble, again } = useAsked<{ firings: readonly Firing[] }>('/firings');
  const [name, setName] = useState<string | undefined>(undefined);
  const [wrong, setWrong] = useState<string | undefined>(undefined);
  const { zone } = studio.settings;
  const firings = value?.firings ?? [];
  const shown = name ?? (value ? nextName(firings) : '');
  const plan = async (): Promise<void> => {
    setWrong(undefined);
    try {
      await askRecord('/firings', 'POST', {
        at_utc: new Date().toISOString(),
        zone,
        uid: newUid(),
        name: shown,
      });
      setName(undefined);
      await again();
    } catch (error) {
      setWrong(inWords(error));
    }
  };
  const now_utc = new Date().toISOString();
  return h(
    'main',
    { class: 'room all-firings' },
    h('h1', null, 'Firings'),
    h(
      'form',
      {
        class: 'row',
        onSubmit: (event: Event) => {
          event.preventDefault();
          void plan();
        },
      },
      h(
        'label',
        null,
        'Plan a firing called',
        h('input', {
          type: 'text',
          maxLength: 60,
          value: shown,
          'data-field': 'firing.name',
          onInput: (event: Event) => setName((event.target as HTMLInputElement).value),
        }),
      ),
      h('button', { type: 'submit', 'data-do': 'plan' }, 'Plan it'),
    ),
    (wrong ?? trouble) !== undefined && h('p', { class: 'wrong', role: 'alert' }, wrong ?? trouble),
    h(
      'ul',
      { class: 'firing-list' },
      firings.map(({ id, day, state, pieces }) =>
        h(
          'li',
          { key: id },
          h(
            'a',
            { class: 'button', href: `#firing/${id}` },
            h('b', null, state.name ?? `Firing ${id}`),
            ` ${state.stage}${day ? `, ${sayWhen(`${day}T12:00:00.000Z`, zone, now_utc)}` : ''}, ${pieces} pieces`,
          ),
        ),
      ),
    ),
  );
};

/** `#firing`: all of them; `#firing/14`: that one, with what stands in it. */
export const FiringRoom = ({ session }: RoomProps) =>
  withStudio((studio) => {
    const [id] = partsOfAddress();
    return id
      ? h(OnePage, { key: id, id, studio, units: unitsOf(session, studio) })
      : h(AllFirings, { studio });
  });
