import type { CLAY_STATES, ClayState, LOSS_CAUSES } from './kinds.ts';

/** How far the work has come. */
export const STAGES = [
  'not begun',
  'begun',
  'formed',
  'drying',
  'bone dry',
  'set',
  'fired',
  'unloaded',
  'finished',
] as const;
export type Stage = (typeof STAGES)[number];

export const atLeast = (stage: Stage, least: Stage): boolean =>
  STAGES.indexOf(stage) >= STAGES.indexOf(least);

/** Whose hands it is in. */
export const STANDS = ['in the studio', 'packed', 'shown', 'on consignment', 'sold', 'lost'] as const;
export type Stands = (typeof STANDS)[number];

export interface Money {
  /** In the smallest unit of the currency. */
  readonly minor: number;
  readonly currency: string;
}

export interface Sizes {
  readonly height_mm?: number;
  readonly widest_mm?: number;
  readonly lip_mm?: number;
  readonly foot_mm?: number;
  readonly wall_mm?: number;
  readonly sag_mm?: number;
}

/** All that follows from the journal of one piece. */
export interface PieceState {
  readonly number?: string;
  readonly title?: string;
  /** Ids of sheets in the record. */
  readonly form?: number;
  readonly clay?: number;
  readonly begun_utc?: string;
  readonly stage: Stage;
  readonly since_utc?: string;
  readonly dryingSince_utc?: string;
  readonly cover?: string;
  readonly stands: Stands;
  readonly place?: string;
  readonly until?: string;
  readonly firing?: number;
  readonly shelf?: number;
  readonly attitude?: string;
  /** Firings it went through. */
  readonly firings: readonly number[];
  readonly weights_g: Readonly<Partial<Record<(typeof CLAY_STATES)[number], number>>>;
  readonly sizes: Readonly<Partial<Record<ClayState, Sizes>>>;
  readonly clayTaken_g?: number;
  readonly hours: number;
  readonly came?: string;
  readonly loss?: {
    readonly cause: (typeof LOSS_CAUSES)[number];
    readonly at: Stage;
    readonly at_utc: string;
  };
  readonly price?: Money;
  readonly sale?: Money & { readonly at_utc: string; readonly to?: string; readonly through?: string };
  readonly share_percent?: number;
  readonly promised?: { readonly to: string; readonly by: string };
  /** SHA-256 of each photo, the newest last; those after the fire again in `photosAfter`. */
  readonly photos: readonly string[];
  readonly photosAfter: readonly string[];
  readonly entries: number;
  readonly last_utc?: string;
  /** What does not fit together, in words: data, not an error. */
  readonly doubts: readonly string[];
}

export const NOTHING_YET: PieceState = {
  stage: 'not begun',
  stands: 'in the studio',
  firings: [],
  weights_g: {},
  sizes: {},
  hours: 0,
  photos: [],
  photosAfter: [],
  entries: 0,
  doubts: [],
};
