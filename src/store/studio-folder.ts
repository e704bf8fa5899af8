import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { AfterfireError, badInput } from '../error.ts';
import { type Clay, parseClay } from '../making/clay/clay.ts';
import type { Setting } from '../making/firing/setting.ts';
import { type Form, MAX_FORM_BYTES, parseForm } from '../making/form/form.ts';
import { parseSchedule, type Schedule } from '../making/kiln/schedule.ts';
import type { LearningLog } from '../making/learning/learning-log.ts';
import type { Unloading } from '../making/learning/unloading.ts';
import { type NamedSetting, parseSetting } from '../making/setting-file.ts';
import { parseStudio, type StudioFile } from '../making/studio-file.ts';
import { parseTestPieces, type TestPiecesFile } from '../making/test-pieces-file.ts';
import { parseFile } from './json-text.ts';
import { readLearningLog } from './learning-file.ts';
import { readText } from './read-text.ts';
import { readUnloading, UNLOADING } from './unloading-file.ts';

/** A studio's folder read whole. Every key is a file name without its ending (`tall-vase.form.json` → `tall-vase`). */
export interface Studio {
  /** The usual clay and schedule, and the form to open first, by key. */
  readonly studio: {
    readonly name: string;
    readonly note?: string | undefined;
    readonly clay: string;
    readonly schedule: string;
    readonly form: string;
  };
  /** In the studio's own order. */
  readonly forms: Readonly<Record<string, Form>>;
  /** How each form is meant to stand. */
  readonly settings: Readonly<Record<string, Setting>>;
  /** All that lie in the folder. */
  readonly clays: Readonly<Record<string, Clay>>;
  readonly schedules: Readonly<Record<string, Schedule>>;
  /** What was found when kilns were opened, what test pieces measured, and what was learned: all that lie in the folder, if any. */
  readonly unloadings: Readonly<Record<string, Unloading>>;
  readonly testPieces: Readonly<Record<string, TestPiecesFile>>;
  readonly learning: Readonly<Record<string, LearningLog>>;
}

const STUDIO = '.studio.json';
const CLAY = '.clay.json';
const SCHEDULE = '.schedule.json';
const FORM = '.form.json';
export const TEST_PIECES = '.test-pieces.json';
export const LEARNING = '.learning.json';

const keyOf = (file: string, ending: string): string => file.slice(0, -ending.length);

export const readForm = async (path: string): Promise<Form> =>
  parseFile(path, await readText(path, MAX_FORM_BYTES), parseForm);
export const readClay = async (path: string): Promise<Clay> =>
  parseFile(path, await readText(path), parseClay);
export const readSchedule = async (path: string): Promise<Schedule> =>
  parseFile(path, await readText(path), parseSchedule);

export const readSetting = async (path: string): Promise<NamedSetting> =>
  parseFile(path, await readText(path), parseSetting);

export const readTestPiecesFile = async (path: string): Promise<TestPiecesFile> =>
  parseFile(path, await readText(path), parseTestPieces);

/** How each form of a studio stands, by the form's key. */
const settingsOf = async (folder: string, { forms }: StudioFile): Promise<Record<string, Setting>> => {
  const found: Record<string, Setting> = {};
  for (const { file, setting } of forms)
    found[keyOf(file, FORM)] =
      typeof setting === 'string' ? (await readSetting(join(folder, setting))).setting : setting;
  return found;
};

const filesIn = async (folder: string): Promise<string[]> => {
  const names = await readdir(folder).catch(() => {
    throw new AfterfireError('not-found', `${folder}: there is no such folder`);
  });
  return names.sort();
};

/** The learning logs that lie in a folder. */
export const learningFilesIn = async (folder: string): Promise<string[]> =>
  (await filesIn(folder)).filter((name) => name.endsWith(LEARNING)).map((name) => join(folder, name));

const readStudioFile = async (folder: string, names: readonly string[]): Promise<StudioFile> => {
  const found = names.filter((name) => name.endsWith(STUDIO));
  if (found.length !== 1) throw badInput(folder, found, `exactly one file ending in ${STUDIO}`);
  const path = join(folder, found[0]);
  return parseFile(path, await readText(path), parseStudio);
};

const readAll = async <T>(
  folder: string,
  files: readonly string[],
  ending: string,
  read: (path: string) => Promise<T>,
): Promise<Record<string, T>> => {
  const found: Record<string, T> = {};
  for (const file of files)
    if (file.endsWith(ending)) found[keyOf(file, ending)] = await read(join(folder, file));
  return found;
};

/** Reads a studio's folder. Throws `not-found`, `too-large`, or `bad-input` naming file, line and field. */
export const readStudio = async (folder: string): Promise<Studio> => {
  const names = await filesIn(folder);
  const file = await readStudioFile(folder, names);
  // What the studio names is read too, so that a missing file is said to be missing.
  const withNamed = (named: string): string[] => [...new Set([named, ...names])];
  const formFiles = file.forms.map((form) => form.file);
  return {
    studio: {
      name: file.name,
      note: file.note,
      clay: keyOf(file.clay, CLAY),
      schedule: keyOf(file.schedule, SCHEDULE),
      form: keyOf(formFiles[0], FORM),
    },
    forms: await readAll(folder, formFiles, FORM, readForm),
    settings: await settingsOf(folder, file),
    clays: await readAll(folder, withNamed(file.clay), CLAY, readClay),
    schedules: await readAll(folder, withNamed(file.schedule), SCHEDULE, readSchedule),
    unloadings: await readAll(folder, names, UNLOADING, readUnloading),
    testPieces: await readAll(folder, names, TEST_PIECES, readTestPiecesFile),
    learning: await readAll(folder, names, LEARNING, readLearningLog),
  };
};

/** Where the usual clay and schedule of a studio stand. */
export const usualFiles = async (
  folder: string,
): Promise<{ readonly clay: string; readonly schedule: string }> => {
  const { clay, schedule } = await readStudioFile(folder, await filesIn(folder));
  return { clay: join(folder, clay), schedule: join(folder, schedule) };
};
