import type { Fault } from '../../error.ts';
import type { Entry } from './entry.ts';
import type { Folded } from './fold.ts';
import type { KindName } from './kinds.ts';
import { standing } from './standing.ts';

export const FIRING_STAGES = ['not planned', 'planned', 'lit', 'off', 'opened', 'called off'] as const;
export type FiringStage = (typeof FIRING_STAGES)[number];

/** All that follows from the journal of one firing. */
export interface FiringState {
  readonly name?: string;
  /** Ids of sheets in the record. */
  readonly kiln?: number;
  readonly schedule?: number;
  readonly on?: string;
  readonly stage: FiringStage;
  readonly lit_utc?: string;
  readonly off_utc?: string;
  readonly opened_utc?: string;
  /** What the thermometer said, in order. */
  readonly readings: readonly { readonly at_utc: string; readonly temperature_C: number }[];
  readonly photos: readonly string[];
}

const NOTHING_YET: FiringState = { stage: 'not planned', readings: [], photos: [] };

const STAGES_FOR: Readonly<Partial<Record<KindName, readonly FiringStage[]>>> = {
  planned: ['not planned'],
  lit: ['planned'],
  read: ['lit', 'off'],
  off: ['lit'],
  opened: ['off'],
  'called off': ['planned'],
};

const step = (state: FiringState, { kind, data, at_utc }: Entry): Partial<FiringState> => {
  switch (kind) {
    case 'planned':
      return {
        stage: 'planned',
        name: String(data.name),
        ...(data.kiln === undefined ? {} : { kiln: Number(data.kiln) }),
        ...(data.schedule === undefined ? {} : { schedule: Number(data.schedule) }),
        ...(data.on === undefined ? {} : { on: String(data.on) }),
      };
    case 'lit':
      return { stage: 'lit', lit_utc: at_utc };
    case 'read':
      return { readings: [...state.readings, { at_utc, temperature_C: Number(data.temperature_C) }] };
    case 'off':
      return { stage: 'off', off_utc: at_utc };
    case 'opened':
      return { stage: 'opened', opened_utc: at_utc };
    case 'called off':
      return { stage: 'called off' };
    case 'photographed':
      return { photos: [...state.photos, String(data.photo)] };
    default:
      return {};
  }
};

/** The journal of one firing (entries that are said of the firing itself) → its state, as `foldPiece` for a piece. */
export const foldFiring = (
  entries: readonly Entry[],
): { readonly state: FiringState; readonly trouble?: Folded['trouble'] } => {
  let state = NOTHING_YET;
  for (const entry of standing(entries)) {
    const right = STAGES_FOR[entry.kind];
    const wrong =
      (right && !right.includes(state.stage)) || (state.stage === 'not planned' && entry.kind !== 'planned');
    if (wrong) {
      const expected = `a firing that is ${(right ?? ['planned']).join(' or ')} (this one is ${state.stage})`;
      return { state, trouble: { entry, fault: { field: 'kind', value: entry.kind, expected } } };
    }
    state = { ...state, ...step(state, entry) };
  }
  return { state };
};

/**
 * Whether what is said of a piece in a firing fits what is said of that firing.
 * @param entry one that counts, of kind set, fired or unloaded
 */
export const loadFault = (entry: Entry, firing: FiringState): Fault | undefined => {
  const { kind, at_utc } = entry;
  const { stage, lit_utc, off_utc, name = 'the firing' } = firing;
  const no = (expected: string): Fault => ({ field: 'firing', value: `${name} (${stage})`, expected });
  if (stage === 'not planned') return no('a firing that is planned');
  if (kind === 'set' && stage === 'called off') return no('a firing that was not called off');
  if (kind === 'set' && lit_utc !== undefined && at_utc > lit_utc)
    return no(`a firing that was not yet lit at ${at_utc} (it was at ${lit_utc})`);
  if (kind === 'fired' && (lit_utc === undefined || at_utc < lit_utc))
    return no('a firing that was lit by then: record "lit" first');
  if (kind === 'unloaded' && (off_utc === undefined || at_utc < off_utc))
    return no('a firing that was off by then: record "off" first');
  return undefined;
};
