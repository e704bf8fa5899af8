import type { Entry } from './entry.ts';
import { CLAY_STATES, type ClayState, KIND_NAMES, type KindName, kindOf } from './kinds.ts';
import { outOfOrder } from './order.ts';
import type { PieceState, Stage } from './piece-state.ts';

/** What may be written of a piece now, and what most often is. */

const tried = (kind: KindName, clay: string, { firing = 0 }: PieceState): Entry => ({
  id: 0,
  at_utc: '',
  zone: '',
  batch: 0,
  note: '',
  kind,
  data: { clay },
  ...(kindOf(kind).inFiring ? { firing } : {}),
});

/** How the clay of this piece can be found now, the driest first: what was worked on is leather-hard more often than wet. */
export const claysNow = (state: PieceState): ClayState[] =>
  CLAY_STATES.filter((clay) => outOfOrder(tried('weighed', clay, state), state) === undefined).toReversed();

/** Every kind that can follow on this state, in the order of the work. */
export const possibleKinds = (state: PieceState): KindName[] =>
  KIND_NAMES.filter(
    (kind) =>
      kindOf(kind).of !== 'firing' &&
      kind !== 'begun' &&
      kind !== 'undone' &&
      outOfOrder(tried(kind, claysNow(state)[0] ?? '', state), state) === undefined,
  );

const LIKELY: Readonly<Record<Stage, readonly KindName[]>> = {
  'not begun': ['begun'],
  begun: ['formed'],
  formed: ['carved', 'drying', 'weighed'],
  drying: ['carved', 'dry', 'measured'],
  'bone dry': ['weighed', 'set'],
  set: [],
  fired: ['unloaded'],
  unloaded: ['measured', 'photographed', 'finished'],
  finished: ['photographed', 'priced', 'packed', 'shown', 'sold', 'consigned'],
};

const MOST_LIKELY = 4;
/** Done once as a rule. */
const ONCE: readonly KindName[] = ['carved', 'weighed', 'measured', 'photographed', 'priced', 'packed'];

/** The few that are likely next, at most four: what was done already stands back. */
export const likelyKinds = (state: PieceState, done: ReadonlySet<KindName>): KindName[] => {
  const possible = possibleKinds(state);
  if (state.stands === 'lost') return [];
  const away = state.stands === 'shown' || state.stands === 'on consignment';
  const usual: readonly KindName[] = away ? ['sold', 'returned'] : LIKELY[state.stage];
  const dryToWeigh = state.stage === 'bone dry' && state.weights_g['bone dry'] === undefined;
  const again = (kind: KindName): boolean =>
    ONCE.includes(kind) && done.has(kind) && !(kind === 'weighed' && dryToWeigh);
  return usual.filter((kind) => possible.includes(kind) && !again(kind)).slice(0, MOST_LIKELY);
};
