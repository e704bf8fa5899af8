import type { Fault } from '../../error.ts';
import type { Entry } from './entry.ts';
import type { ClayState, KindName } from './kinds.ts';
import { outOfOrder } from './order.ts';
import { atLeast, NOTHING_YET, type PieceState, type Stage } from './piece-state.ts';
import { standing } from './standing.ts';

/** The present state of a piece follows from its journal alone; these are the steps. */

type Step = (state: PieceState, entry: Entry) => Partial<PieceState>;

const text = (value: string | number | undefined): string | undefined =>
  value === undefined ? undefined : String(value);
const number = (value: string | number | undefined): number | undefined =>
  value === undefined ? undefined : Number(value);

const to = (stage: Stage, entry: Entry): Partial<PieceState> => ({ stage, since_utc: entry.at_utc });
const worked = (state: PieceState, { data }: Entry): Partial<PieceState> => ({
  hours: Math.round((state.hours + Number(data.hours ?? 0)) * 1e6) / 1e6,
});

const sizesOf = ({ data: { clay: _, ...sizes } }: Entry): Readonly<Record<string, string | number>> => sizes;

const STEPS: Readonly<Partial<Record<KindName, Step>>> = {
  begun: (_, entry) => ({
    ...to('begun', entry),
    begun_utc: entry.at_utc,
    number: text(entry.data.number),
    title: text(entry.data.title),
    form: number(entry.data.form),
    clay: number(entry.data.clay),
  }),
  formed: (state, entry) => ({
    ...to('formed', entry),
    ...worked(state, entry),
    clayTaken_g: number(entry.data.clay_g),
  }),
  weighed: (state, { data }) => ({
    weights_g: { ...state.weights_g, [data.clay as ClayState]: Number(data.weight_g) },
  }),
  measured: (state, entry) => {
    const clay = entry.data.clay as ClayState;
    return { sizes: { ...state.sizes, [clay]: { ...state.sizes[clay], ...sizesOf(entry) } } };
  },
  carved: worked,
  drying: (state, entry) => ({
    ...(state.stage === 'drying' ? {} : { ...to('drying', entry), dryingSince_utc: entry.at_utc }),
    cover: text(entry.data.cover),
    place: text(entry.data.place) ?? state.place,
  }),
  dry: (_, entry) => ({ ...to('bone dry', entry), dryingSince_utc: undefined, cover: undefined }),
  set: (_, entry) => ({
    ...to('set', entry),
    stands: 'in the studio',
    firing: entry.firing,
    shelf: number(entry.data.shelf),
    attitude: text(entry.data.attitude),
    place: undefined,
  }),
  unset: (state, entry) => ({
    ...to(state.firings.length > 0 ? 'unloaded' : 'bone dry', entry),
    firing: undefined,
    shelf: undefined,
    attitude: undefined,
  }),
  fired: (state, entry) => ({
    ...to('fired', entry),
    firings: [...state.firings, entry.firing!],
  }),
  unloaded: (_, entry) => ({
    ...to('unloaded', entry),
    came: text(entry.data.came),
    firing: undefined,
    shelf: undefined,
  }),
  photographed: (state, { data }) => {
    const photo = String(data.photo);
    const with_ = (list: readonly string[]): string[] => [...list.filter((p) => p !== photo), photo];
    const after =
      data.shows === 'after the fire' || (data.shows === undefined && atLeast(state.stage, 'unloaded'));
    return { photos: with_(state.photos), ...(after ? { photosAfter: with_(state.photosAfter) } : {}) };
  },
  finished: (state, entry) => ({
    ...(state.stage === 'finished' ? {} : to('finished', entry)),
    ...worked(state, entry),
  }),
  priced: (_, { data }) => ({
    price: { minor: Number(data.price_minor), currency: String(data.currency) },
  }),
  promised: (_, { data }) => ({ promised: { to: String(data.to), by: String(data.by) } }),
  packed: (_, { data }) => ({ stands: 'packed', place: text(data.box) }),
  shown: (_, { data }) => ({ stands: 'shown', place: text(data.place), until: text(data.until) }),
  consigned: (_, { data }) => ({
    stands: 'on consignment',
    place: text(data.place),
    until: text(data.until),
    share_percent: number(data.share_percent),
  }),
  sold: (state, { data, at_utc }) => ({
    stands: 'sold',
    until: undefined,
    place: text(data.to) ?? state.place,
    sale: {
      minor: Number(data.price_minor),
      currency: String(data.currency),
      at_utc,
      ...(data.to === undefined ? {} : { to: String(data.to) }),
      ...(data.through === undefined ? {} : { through: String(data.through) }),
    },
  }),
  returned: (_, { data }) => ({
    stands: 'in the studio',
    place: text(data.place),
    until: undefined,
    sale: undefined,
    share_percent: undefined,
  }),
  lost: (state, { data, at_utc }) => ({
    stands: 'lost',
    place: undefined,
    until: undefined,
    firing: undefined,
    dryingSince_utc: undefined,
    loss: { cause: data.cause as NonNullable<PieceState['loss']>['cause'], at: state.stage, at_utc },
  }),
  moved: (_, { data }) => ({ place: text(data.place) }),
};

/** Order in which the clay of a piece grows lighter, and what to say when it did not. */
const LIGHTER: readonly (readonly [ClayState, ClayState])[] = [
  ['bone dry', 'leather-hard'],
  ['bone dry', 'wet'],
  ['fired', 'bone dry'],
];

const doubtsOf = ({ weights_g }: PieceState): string[] =>
  LIGHTER.flatMap(([later, before]) => {
    const [a, b] = [weights_g[later], weights_g[before]];
    return a !== undefined && b !== undefined && a > b
      ? [`${later} it weighs ${a} g, more than ${b} g ${before}: one of the two may be a slip`]
      : [];
  });

/** One entry onto a state that it may follow. */
const after = (state: PieceState, entry: Entry): PieceState => ({
  ...state,
  ...STEPS[entry.kind]?.(state, entry),
  entries: state.entries + 1,
  last_utc: entry.at_utc,
});

export interface Folded {
  readonly state: PieceState;
  /** The first entry that cannot be where it stands, and why. The state is that of the entries before it. */
  readonly trouble?: { readonly entry: Entry; readonly fault: Fault };
}

/** The journal of one piece (in any order, undone entries and all) → its state. */
export const foldPiece = (entries: readonly Entry[]): Folded => {
  let state = NOTHING_YET;
  for (const entry of standing(entries)) {
    const fault = outOfOrder(entry, state);
    if (fault) return { state, trouble: { entry, fault } };
    state = after(state, entry);
  }
  return { state: { ...state, doubts: doubtsOf(state) } };
};
