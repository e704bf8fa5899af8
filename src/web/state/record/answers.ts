import type { Form } from '../../../making/form/form.ts';
import type { Entry } from '../../../making/record/entry.ts';
import type { FiringState } from '../../../making/record/firing-state.ts';
import type { PieceState } from '../../../making/record/piece-state.ts';
import type { StudioSettings } from '../../../making/record/studio-settings.ts';

/** What the server tells of the record. */

export interface Begun {
  readonly settings: StudioSettings;
  /** Nothing is in it yet. */
  readonly empty: boolean;
  /** The number after the last one begun. */
  readonly next: string;
}

export interface Piece {
  readonly id: number;
  readonly state: PieceState;
}

export interface Firing {
  readonly id: number;
  readonly day: string | null;
  readonly state: FiringState;
  readonly pieces: number;
}

export interface Sheet {
  readonly id: number;
  readonly key: string;
  readonly version: number;
  readonly name: string;
}

export interface FormTold {
  readonly form: number;
  readonly key: string;
  readonly version: number;
  readonly name: string;
  readonly parent: number | null;
  readonly series: number | null;
  readonly made_utc: string;
  readonly first_utc: string | null;
  readonly last_utc: string | null;
  readonly pieces: number;
  readonly fired: number;
  readonly sold: number;
  readonly lost: number;
  readonly json: Form;
}

export interface Series {
  readonly id: number;
  readonly name: string;
  readonly note: string;
}

export interface FormsTold {
  readonly forms: readonly FormTold[];
  readonly series: readonly Series[];
  readonly clays: readonly Sheet[];
  readonly kilns: readonly Sheet[];
  readonly schedules: readonly Sheet[];
}

interface Some<T> {
  readonly count: number;
  readonly first: readonly T[];
}
interface Named {
  readonly piece: number;
  readonly number: string;
}

export interface Today {
  readonly now_utc: string;
  readonly drying: Some<Named & { readonly hours: number; readonly window: 'soon' | 'open' | 'over' }>;
  readonly firings: readonly Firing[];
  readonly due: Some<
    Named & {
      readonly day: string;
      readonly days: number;
      readonly why: 'promised' | 'shown' | 'on consignment';
    }
  >;
  readonly unpriced: Some<Named>;
  readonly unphotographed: Some<Named>;
  readonly stages: Readonly<Record<string, number>>;
  readonly recent: readonly Piece[];
  /** The state of every piece named above. */
  readonly pieces: Readonly<Record<string, PieceState>>;
}

export type Hit =
  | { readonly sort: 'piece'; readonly id: number; readonly state: PieceState }
  | { readonly sort: 'firing'; readonly id: number; readonly state: FiringState };

export interface PieceTold {
  readonly piece: Piece;
  readonly entries: readonly Entry[];
  /** Those its journal names. */
  readonly firings: readonly Firing[];
  /** Those it could be set in. */
  readonly planned: readonly Firing[];
}

export interface FiringTold {
  readonly firing: Firing;
  readonly load: readonly Piece[];
  readonly entries: readonly Entry[];
}
