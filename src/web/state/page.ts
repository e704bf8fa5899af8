import type { Fault } from '../../error.ts';
import type { Clay } from '../../making/clay/clay.ts';
import type { Setting } from '../../making/firing/setting.ts';
import type { Form } from '../../making/form/form.ts';
import type { Schedule } from '../../making/kiln/schedule.ts';
import type { Degrees, Lengths } from '../words.ts';
import type { Film } from '../worker/film.ts';
import { type History, startHistory } from './history.ts';

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
}

export type Attitude = Setting['attitude'];
export const ATTITUDES: readonly Attitude[] = ['upright', 'rim down', 'on its side'];

export type Drawer = 'line' | 'alterations' | 'schedule' | 'clay';

/** A film and the work it was fired from: a film of other work is out of date. */
export interface Fired {
  readonly of: Work;
  readonly film: Film;
  readonly took_ms: number;
}

export interface FullRun {
  readonly of: Work;
  readonly fraction: number;
  readonly note: string;
}

/** Why a piece cannot be fired in an attitude, in two words and in full. */
export interface Refusal {
  readonly brief: string;
  readonly why: string;
}

/** Everything the page shows, in one plain object. */
export interface Page {
  readonly studio: Studio;
  readonly history: History<Work>;
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

export const startPage = (studio: Studio, work: Work, opened: string | undefined): Page => ({
  studio,
  history: startHistory(work),
  opened,
  drawer: 'line',
  chosen: undefined,
  degrees: 'C',
  lengths: 'mm',
  quick: {},
  full: [],
  running: undefined,
  triangles: 6000,
  moment: 1,
  playing: false,
  ghost: true,
  movement: false,
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

export const withAttitude = (work: Work, attitude: Attitude): Work => ({
  ...work,
  setting: { ...work.setting, attitude },
});

/** The best film there is of an attitude: a full firing while it is up to date, else the latest quick look. */
export const firedIn = (page: Page, attitude: Attitude): Fired | undefined => {
  const work = withAttitude(workOf(page), attitude);
  return page.full.find((fired) => sameWork(fired.of, work)) ?? page.quick[attitude];
};

export const shownOf = (page: Page): Fired | undefined => firedIn(page, workOf(page).setting.attitude);
