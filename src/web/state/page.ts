import type { Fault } from '../../error.ts';
import type { Clay } from '../../making/clay/clay.ts';
import type { Prop } from '../../making/firing/props/table.ts';
import type { Setting } from '../../making/firing/setting.ts';
import type { CarvingOutline } from '../../making/form/carving/carving-outlines.ts';
import type { Form } from '../../making/form/form.ts';
import type { Schedule } from '../../making/kiln/schedule.ts';
import type { LearningLog } from '../../making/learning/learning-log.ts';
import type { Unloading } from '../../making/learning/unloading.ts';
import type { TestPiecesFile } from '../../making/test-pieces-file.ts';
import type { Degrees, Lengths } from '../words.ts';
import type { Compared } from '../worker/compare.ts';
import type { Film, Seen } from '../worker/film.ts';
import { type History, startHistory } from './history.ts';
import { firstLean, standIn } from './stands.ts';

/** What the person decides, and what undo walks through. */
export interface Work {
  readonly form: Form;
  readonly clay: Clay;
  readonly schedule: Schedule;
  readonly setting: Setting;
}

/** What the server's demo studio holds (docs: a folder with one file for each thing). */
export interface Studio {
  readonly studio: {
    readonly name: string;
    readonly clay: string;
    readonly schedule: string;
    readonly form: string;
  };
  readonly forms: Readonly<Record<string, Form>>;
  /** How each form is meant to stand. */
  readonly settings: Readonly<Record<string, Setting>>;
  readonly clays: Readonly<Record<string, Clay>>;
  readonly schedules: Readonly<Record<string, Schedule>>;
  /** Whether a record of its pieces is open too. */
  readonly recorded?: boolean;
  /** What was measured when kilns were opened, and what was learned from it. */
  readonly unloadings?: Readonly<Record<string, Unloading>>;
  readonly learning?: Readonly<Record<string, LearningLog>>;
  /** What test pieces of its clays measured. */
  readonly testPieces?: Readonly<Record<string, TestPiecesFile>>;
}

export type Attitude = Setting['attitude'];
export const ATTITUDES: readonly Attitude[] = ['upright', 'rim down', 'on its side', 'leaning'];

export type Drawer = 'line' | 'wall' | 'alterations' | 'carving' | 'setting' | 'schedule' | 'clay';

/** A film and the work it was fired from: a film of other work is out of date. */
export interface Fired {
  readonly of: Work;
  readonly film: Film;
  readonly took_ms: number;
}

export interface FullRun {
  readonly of: Work;
  readonly what: 'fire' | 'compare';
  readonly fraction: number;
  readonly note: string;
}

/** Why a piece cannot be fired in an attitude, in two words and in full. */
export interface Refusal {
  readonly brief: string;
  readonly why: string;
  readonly faults: readonly Fault[];
  /** The piece as it was set, where that much could be done: what is wrong is drawn in red. */
  readonly stood?: Seen | undefined;
}

/** Outlines of carving as they lie on the wall, of a form or of one that is tried. */
export interface Outlines {
  readonly of: Form;
  readonly lines: readonly CarvingOutline[];
  /** Where the callipers were put. */
  readonly readings: readonly CarvingOutline[];
}

/** A piece beside its plain twin, and in the hand. */
export interface Beside {
  readonly of: Work;
  /** Or why there is nothing to compare it with. */
  readonly compared: Compared | string;
}

/** Everything the page shows, in one plain object. */
export interface Page {
  readonly studio: Studio;
  /** Which of the pages is open, by its key. */
  readonly room: string;
  readonly history: History<Work>;
  /** The form as asked for where no clay could hold its carving or wall: shown in red, and worked on until it holds. */
  readonly trial: Form | undefined;
  readonly outlines: Outlines | undefined;
  /** What the piece last stood on in each attitude: props of one make no sense in another. */
  readonly propsIn: Readonly<Partial<Record<Attitude, readonly Prop[]>>>;
  readonly beside: Beside | undefined;
  /** Which of the studio's forms was opened last; none after an import. */
  readonly opened: string | undefined;
  readonly drawer: Drawer;
  /** The chosen handle of the line, by number. */
  readonly chosen: number | undefined;
  readonly degrees: Degrees;
  readonly lengths: Lengths;
  /** Quick looks, the latest of each attitude. */
  readonly quick: Readonly<Partial<Record<Attitude, Fired>>>;
  /** Full firings, newest first; a few, so that settings can be compared. */
  readonly full: readonly Fired[];
  readonly running: FullRun | undefined;
  /** About how many triangles a full firing is cut into. */
  readonly triangles: number;
  /** Where the film stands: share of the firing's time, 0 to 1. */
  readonly moment: number;
  readonly playing: boolean;
  readonly ghost: boolean;
  readonly movement: boolean;
  /** Whether the piece is shown cut open too. */
  readonly cut: boolean;
  /** The measure whose interval is taken apart. */
  readonly unsure: string | undefined;
  /** What is wrong, by the field it stands beside. */
  readonly faults: Readonly<Record<string, Fault>>;
  /** Attitudes this piece cannot be fired in, and why. */
  readonly refused: Readonly<Partial<Record<Attitude, Refusal>>>;
  /** Why a firing could not be worked out. */
  readonly trouble: string | undefined;
  /** Why a chosen file was not opened. */
  readonly notOpened: string | undefined;
}

const UPRIGHT: Setting = { attitude: 'upright', turn_deg: 0, shelf: 'slides', lean_deg: 0, props: [] };

/** A form of the studio, standing as it is meant to. */
export const formOnBench = (studio: Studio, key: string): Pick<Work, 'form' | 'setting'> | undefined => {
  const form = studio.forms[key];
  return form && { form, setting: studio.settings[key] ?? UPRIGHT };
};

export interface Units {
  readonly degrees: Degrees;
  readonly lengths: Lengths;
}

export const startPage = (
  studio: Studio,
  work: Work,
  opened: string | undefined,
  units: Units = { degrees: 'C', lengths: 'mm' },
): Page => ({
  studio,
  room: 'bench',
  history: startHistory(work),
  trial: undefined,
  outlines: undefined,
  propsIn: {},
  beside: undefined,
  opened,
  drawer: 'line',
  chosen: undefined,
  ...units,
  quick: {},
  full: [],
  running: undefined,
  triangles: 6000,
  moment: 1,
  playing: false,
  ghost: true,
  movement: false,
  cut: true,
  unsure: undefined,
  faults: {},
  refused: {},
  trouble: undefined,
  notOpened: undefined,
});

export const workOf = (page: Page): Work => page.history.present;

/** Whether a film of one is a film of the other; a setting chosen again is a new record of the same values. */
export const sameWork = (a: Work, b: Work): boolean =>
  a.form === b.form &&
  a.clay === b.clay &&
  a.schedule === b.schedule &&
  JSON.stringify(a.setting) === JSON.stringify(b.setting);

/** The work as its fields show it: with what is tried, where that does not hold yet. */
export const onBench = (page: Page): Work =>
  page.trial ? { ...workOf(page), form: page.trial } : workOf(page);

/** The same piece in another attitude, on what it last stood on there. */
export const inAttitude = (page: Page, attitude: Attitude): Work => {
  const work = workOf(page);
  const { setting, form } = work;
  if (setting.attitude === attitude) return work;
  const lean_deg = attitude === 'leaning' && setting.lean_deg === 0 ? firstLean(form) : setting.lean_deg;
  const props = [...(page.propsIn[attitude] ?? standIn(attitude, form))];
  return { ...work, setting: { ...setting, attitude, lean_deg, props } };
};

/** The best film there is of an attitude: a full firing while it is up to date, else the latest quick look. */
export const firedIn = (page: Page, attitude: Attitude): Fired | undefined => {
  const work = inAttitude(page, attitude);
  return page.full.find((fired) => sameWork(fired.of, work)) ?? page.quick[attitude];
};

export const shownOf = (page: Page): Fired | undefined => firedIn(page, workOf(page).setting.attitude);
