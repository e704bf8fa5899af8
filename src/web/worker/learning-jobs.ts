import type { Fault } from '../../error.ts';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Clay } from '../../making/clay/clay.ts';
import type { Setting } from '../../making/firing/setting.ts';
import type { Form } from '../../making/form/form.ts';
import type { Schedule } from '../../making/kiln/schedule.ts';
import type { Stamp } from '../../making/learning/learn.ts';
import type { FilmTable, LearningLog, PaceTable } from '../../making/learning/learning-log.ts';
import type { Unloading } from '../../making/learning/unloading.ts';

/** A piece as it went into the kiln, and what was believed of clay and kilns then. */
export interface ForeseeAsk {
  readonly kind: 'foresee';
  readonly form: Form;
  readonly setting: Setting;
  readonly clay: Clay;
  readonly schedule: Schedule;
  readonly log: LearningLog;
  readonly kiln: string;
}

/** What would be measured on it, whatever the clay turns out to be, and its shape as it is believed to be. */
export interface Foreseen {
  readonly film: FilmTable;
  readonly pace: PaceTable;
  /** As it stands in the kiln, fired; none where it falls. */
  readonly wall: WallMesh | undefined;
  /** Its outline seen from afar, from the side x: across and up, m; closed. */
  readonly outline_m: Float64Array | undefined;
}

export interface LearnAsk {
  readonly kind: 'learn';
  readonly log: LearningLog;
  readonly unloading: Unloading;
  readonly clay: Clay;
  readonly schedule: Schedule;
  readonly forms: Readonly<Record<string, Form>>;
  readonly settings: Readonly<Record<string, Setting>>;
  readonly stamp: Stamp;
}

/** Answered by the log, one entry longer. */
export interface TakeBackAsk {
  readonly kind: 'take back';
  readonly log: LearningLog;
  readonly entry: string;
  readonly stamp: Omit<Stamp, 'from'>;
}

export type LearningAsk = ForeseeAsk | LearnAsk | TakeBackAsk;

/** What a worker that does one job and ends says. */
export type JobSays<T> =
  | { readonly kind: 'progress'; readonly fraction: number; readonly note: string }
  | { readonly kind: 'done'; readonly value: T }
  | { readonly kind: 'failed'; readonly message: string; readonly faults: readonly Fault[] };
