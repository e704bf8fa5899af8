import type { CutLine } from '../../kernel/mesh/cut.ts';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Clay } from '../clay/clay.ts';
import type { Form } from '../form/form.ts';
import type { Measures } from '../form/measures.ts';
import type { Schedule } from '../kiln/schedule.ts';
import type { KilnKnown } from './ensemble.ts';
import type { Pose } from './pose.ts';
import type { Setting } from './setting.ts';

/** Everything a firing needs to know, and nothing else. */
export interface FiringInput {
  readonly form: Form;
  readonly clay: Clay;
  readonly schedule: Schedule;
  readonly setting: Setting;
  /** How fine: about this many triangles. */
  readonly triangles: number;
  /** `quick` takes a handful of steps (the live preview), `full` adapts its steps to an error bound. */
  readonly care: 'quick' | 'full';
  /** What was learned of the kiln it is fired in, with this clay; left out, guesses stand in. */
  readonly known?: KilnKnown;
}

/** One picture of the film: the piece at one moment of the firing, at its true size then. */
export interface Frame {
  readonly time_s: number;
  readonly temperature_K: number;
  /** Positions of the mid-surface nodes in metres, shrinkage included, shelf at z = 0. */
  readonly positions: Float64Array;
  /** Wall thickness at each node in metres. */
  readonly thickness_m: Float64Array;
  /** Free linear size against bone dry (1 at the start). */
  readonly linearScale: number;
  /** Pore fraction of the body, 0 to 1. */
  readonly porosity: number;
}

export interface Warning {
  readonly kind: string;
  readonly text: string;
}

/** What became of the piece, in one plain sentence; `kind` is for programs. */
export interface Verdict {
  readonly kind:
    | 'stands'
    | 'sags'
    | 'falls-over'
    | 'keeps-falling'
    | 'rim-on-shelf'
    | 'wall-on-wall'
    | 'not-fired';
  readonly text: string;
  /** When it happened, if it happened before the end. */
  readonly time_s?: number;
}

/**
 * A number with how sure we are: four cases in five lie between `low` and `high`, which hold the spread and the
 * numerical error together. NaN all of them where there is no interval; `why` says why not, or what it is made of.
 */
export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** What the calculation alone may be off by, ± in the value's unit. */
  readonly numerical: number;
  /** What is not known of clay and kiln alone. */
  readonly spreadLow: number;
  readonly spreadHigh: number;
  /** A fragment to stand after a colon. */
  readonly why: string;
}

/** A fired shape that clay or kiln might as well have made: same triangles as the piece, fired size, shelf at z = 0. */
export interface BandShape {
  readonly positions: Float64Array;
  readonly thickness_m: Float64Array;
  /** Its cut by the plane through the axis (y = 0). */
  readonly section: readonly CutLine[];
}

/** Four cases in five lie between these two shapes. */
export interface Bands {
  readonly stiff: BandShape;
  readonly soft: BandShape;
  /** The soft shape is only as far as it could be followed: it falls. */
  readonly softFalls: boolean;
  readonly why: string;
}

/** How much longer it could stand at the peak before its rim has moved `moves_m` more. */
export interface Margin {
  readonly moves_m: number;
  readonly minutes: number;
  readonly low: number;
  readonly high: number;
  /** `minutes` is only as far as was looked: it takes more. */
  readonly atLeast: boolean;
  /** The same of `high`. */
  readonly highAtLeast: boolean;
  readonly text: string;
}

/** How the trials of what is not known went. */
export interface Trials {
  readonly count: number;
  readonly fell: number;
  /** A wall met itself. */
  readonly met: number;
  /** The lip of a piece set upright came down to the shelf. */
  readonly touched: number;
}

export interface HeatWorkSaid {
  /** e.g. `cone 9, three quarters to cone 10` */
  readonly text: string;
}

export interface Firing {
  readonly input: FiringInput;
  /** The bone-dry piece as it is set in the kiln, before the fire. */
  readonly dry: WallMesh;
  /** How the piece as drawn, bone dry, came to stand so. */
  readonly asSet: Pose;
  readonly frames: readonly Frame[];
  readonly wetMeasures: Measures;
  readonly dryMeasures: Measures;
  readonly firedMeasures: Measures;
  /** How far each node moved beyond shrinkage, metres; length = nodes. */
  readonly sag_m: Float64Array;
  /** 1 where the fired piece stands on the shelf; length = nodes. */
  readonly onShelf: Uint8Array;
  /** What each node of the fired piece rests on: 0 nothing, 1 the shelf, 2 + i prop i; length = nodes. */
  readonly restsOn?: Uint8Array;
  /** Area resting on each prop, m². */
  readonly propAreas_m2?: readonly number[];
  /** Where the origin of the props stands in every picture, m. Kiln furniture keeps its size, a prop that shrinks goes by the picture's scale. */
  readonly propsAt_m?: readonly [number, number];
  readonly contactArea_m2: number;
  readonly thinnestWall_m: number;
  readonly verdict: Verdict;
  readonly warnings: readonly Warning[];
  readonly heatWork: HeatWorkSaid;
  /** Fired height, widths, lip drop, greatest sag, weight, capacity: each with its interval. Keys are stable names in SI. */
  readonly estimates: Readonly<Record<string, Estimate>>;
  /** None for a quick look and for a piece that fell. */
  readonly bands?: Bands;
  readonly margin?: Margin;
  /** None for a quick look. */
  readonly trials?: Trials;
  /** Which inputs are guesses, published or measured, in sentences to show as they are. */
  readonly provenance: readonly string[];
  readonly steps: number;
}

/** What the firing tells whoever is waiting. */
export interface FiringProgress {
  /** 0 to 1. */
  readonly fraction: number;
  readonly note: string;
  /** A coarse look at the piece now. */
  readonly frame?: Frame;
}

/**
 * A firing is a simulation the caller drives: each `next()` is one step, so that progress, cancel and
 * yielding to a screen are the caller's business and the same code runs in Node, a worker and a test.
 * (The function itself: `fire(input): Generator<FiringProgress, Firing>` in fire.ts.)
 */
export type FiringRun = Generator<FiringProgress, Firing, void>;
