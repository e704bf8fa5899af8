import type { Fault } from '../../error.ts';
import type { Entry } from './entry.ts';
import { type KindName, kindOf } from './kinds.ts';
import { atLeast, type PieceState, type Stage } from './piece-state.ts';

/** Which entries can follow which. What cannot be is refused in words, and the person keeps what was typed. */

/** Stages of the work in which an entry makes sense; left out: any. */
const STAGES_FOR: Readonly<Partial<Record<KindName, readonly Stage[]>>> = {
  formed: ['begun'],
  carved: ['begun', 'formed', 'drying', 'bone dry'],
  drying: ['formed', 'drying'],
  dry: ['formed', 'drying'],
  set: ['bone dry', 'unloaded', 'finished'],
  unset: ['set'],
  fired: ['set'],
  unloaded: ['fired'],
  finished: ['unloaded', 'finished'],
  packed: ['unloaded', 'finished'],
  shown: ['unloaded', 'finished'],
  consigned: ['unloaded', 'finished'],
  sold: ['unloaded', 'finished'],
};

/** What would have to come before. */
const BEFORE: Readonly<Partial<Record<KindName, string>>> = {
  formed: 'a piece that was just begun: it can be formed once',
  carved: 'a piece before the fire',
  drying: 'a piece that was formed and is not yet bone dry',
  dry: 'a piece that was formed and not yet fired',
  set: 'a piece that is bone dry, or one that came out of an earlier firing',
  unset: 'a piece that is set in a kiln and not yet fired',
  fired: 'a piece that was set in that kiln: record "set" first',
  unloaded: 'a piece that was fired: record "fired" first',
  finished: 'a piece that came out of the kiln: record "unloaded" first',
  packed: 'a piece that came out of the kiln: record "unloaded" first',
  shown: 'a piece that came out of the kiln: record "unloaded" first',
  consigned: 'a piece that came out of the kiln: record "unloaded" first',
  sold: 'a piece that came out of the kiln: record "unloaded" first; one not yet made is "promised"',
};

const AFTER_LOSS: readonly KindName[] = ['noted', 'photographed'];
const AFTER_SALE: readonly KindName[] = ['noted', 'photographed', 'returned'];

/** The clay as it can be found at each stage. */
const CLAY_AT: Readonly<Record<Stage, readonly string[]>> = {
  'not begun': [],
  begun: ['wet'],
  formed: ['wet', 'leather-hard'],
  drying: ['wet', 'leather-hard'],
  'bone dry': ['bone dry'],
  set: ['bone dry', 'fired'],
  fired: ['fired'],
  unloaded: ['fired'],
  finished: ['fired'],
};

const fault = (field: string, value: string, expected: string): Fault => ({ field, value, expected });

const standFault = ({ kind }: Entry, state: PieceState): Fault | undefined => {
  if (state.stands === 'lost' && !AFTER_LOSS.includes(kind))
    return fault(
      'kind',
      kind,
      `a note or a photo: the piece is lost (${state.loss?.cause}); if that was a slip, take that entry back`,
    );
  if (state.stands === 'sold' && !AFTER_SALE.includes(kind))
    return fault(
      'kind',
      kind,
      'a note, a photo or "returned": the piece is sold; if that was a slip, take that entry back',
    );
  const out = state.stands === 'shown' || state.stands === 'on consignment';
  if (out && ['set', 'finished', 'packed', 'moved'].includes(kind))
    return fault(
      'kind',
      kind,
      `"returned" first: the piece is ${state.stands}${state.place ? ` at ${state.place}` : ''}`,
    );
  if (kind === 'returned' && state.stands === 'in the studio')
    return fault('kind', kind, 'a piece that is packed, shown, on consignment or sold');
  if (kind === 'moved' && (state.stage === 'set' || state.stage === 'fired'))
    return fault('kind', kind, 'a piece that is not in the kiln');
  return undefined;
};

const clayFault = (entry: Entry, state: PieceState): Fault | undefined => {
  if (entry.kind !== 'weighed' && entry.kind !== 'measured') return undefined;
  const right = CLAY_AT[state.stage];
  if (right.includes(String(entry.data.clay))) return undefined;
  return fault(
    'data.clay',
    String(entry.data.clay),
    `${right.join(' or ')}: the piece is ${state.stage} at that time`,
  );
};

/** Why an entry cannot follow on this state; nothing when it can. */
export const outOfOrder = (entry: Entry, state: PieceState): Fault | undefined => {
  if (entry.kind === 'begun')
    return state.stage === 'not begun'
      ? undefined
      : fault(
          'kind',
          entry.kind,
          'another kind: the piece is begun already; a wrong number or form is corrected',
        );
  if (state.stage === 'not begun') return fault('kind', entry.kind, '"begun" before all else');
  const stands = standFault(entry, state);
  if (stands) return stands;
  const stages = STAGES_FOR[entry.kind];
  if (stages && !stages.includes(state.stage))
    return fault('kind', entry.kind, `${BEFORE[entry.kind]} (this one is ${state.stage})`);
  if (kindOf(entry.kind).inFiring && entry.kind !== 'set' && entry.firing !== state.firing)
    return fault('firing', String(entry.firing), `${state.firing}, the firing it was set in`);
  if (entry.kind === 'promised' && !atLeast(state.stage, 'begun'))
    return fault('kind', entry.kind, '"begun" first');
  return clayFault(entry, state);
};
