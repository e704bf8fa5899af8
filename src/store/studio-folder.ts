import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import { AfterfireError, badInput } from '../error.ts';
import { type Clay, parseClay } from '../making/clay/clay.ts';
import { type Form, parseForm } from '../making/form/form.ts';
import { parseSchedule, type Schedule } from '../making/kiln/schedule.ts';
import { parseShape } from '../shape.ts';
import { parseFile } from './json-text.ts';
import { readText } from './read-text.ts';

/** A studio as a folder: one file for the studio, and one for each form, clay and schedule. */
export const StudioAbout = z
  .strictObject({
    afterfire: z.literal('studio/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().optional(),
    clay: z.string().min(1).describe('The usual clay: its file name without .clay.json'),
    schedule: z.string().min(1).describe('The usual schedule: its file name without .schedule.json'),
    form: z.string().min(1).describe('The form to open first: its file name without .form.json'),
  })
  .describe('A studio: which clay and schedule it usually works with');
export type StudioAbout = z.infer<typeof StudioAbout>;

/** Keys are file names without their ending, in alphabetical order. */
export interface Studio {
  readonly studio: StudioAbout;
  readonly forms: Readonly<Record<string, Form>>;
  readonly clays: Readonly<Record<string, Clay>>;
  readonly schedules: Readonly<Record<string, Schedule>>;
}

export const readForm = async (path: string): Promise<Form> =>
  parseFile(path, await readText(path), parseForm);
export const readClay = async (path: string): Promise<Clay> =>
  parseFile(path, await readText(path), parseClay);
export const readSchedule = async (path: string): Promise<Schedule> =>
  parseFile(path, await readText(path), parseSchedule);

const readAbout = async (path: string): Promise<StudioAbout> =>
  parseFile(path, await readText(path), (json) => parseShape(StudioAbout, json, 'studio'));

const readAll = async <T>(
  folder: string,
  names: readonly string[],
  ending: string,
  read: (path: string) => Promise<T>,
): Promise<Record<string, T>> => {
  const found: Record<string, T> = {};
  for (const name of names.filter((n) => n.endsWith(ending)))
    found[name.slice(0, -ending.length)] = await read(join(folder, name));
  return found;
};

const mustHave = (field: string, name: string, among: object): void => {
  if (!(name in among))
    throw badInput(field, name, `one of ${Object.keys(among).join(', ') || 'none there are'}`);
};

/** Reads a studio's folder whole. Throws `not-found`, `too-large`, or `bad-input` naming file, line and field. */
export const readStudio = async (folder: string): Promise<Studio> => {
  const names = await readdir(folder).catch(() => {
    throw new AfterfireError('not-found', `${folder}: there is no such folder`);
  });
  names.sort();
  const path = join(folder, 'studio.json');
  const studio = await readAbout(path);
  const forms = await readAll(folder, names, '.form.json', readForm);
  const clays = await readAll(folder, names, '.clay.json', readClay);
  const schedules = await readAll(folder, names, '.schedule.json', readSchedule);
  mustHave(`${path}: studio.clay`, studio.clay, clays);
  mustHave(`${path}: studio.schedule`, studio.schedule, schedules);
  mustHave(`${path}: studio.form`, studio.form, forms);
  return { studio, forms, clays, schedules };
};

/** Where the usual clay and schedule of a studio stand. */
export const usualFiles = async (
  folder: string,
): Promise<{ readonly clay: string; readonly schedule: string }> => {
  const { clay, schedule } = await readAbout(join(folder, 'studio.json'));
  return { clay: join(folder, `${clay}.clay.json`), schedule: join(folder, `${schedule}.schedule.json`) };
};
