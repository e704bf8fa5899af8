import { join } from 'node:path';
import type { Setting } from '../making/firing/setting.ts';
import type { Form } from '../making/form/form.ts';
import type { Schedule } from '../making/kiln/schedule.ts';
import type { Kit } from '../making/learning/learn.ts';
import type { Unloading } from '../making/learning/unloading.ts';
import type { TestPiecesFile } from '../making/test-pieces-file.ts';
import { readClay, readForm, readSchedule, readSetting } from './studio-folder.ts';

const readEach = async <T>(
  folder: string,
  files: readonly string[],
  read: (path: string) => Promise<T>,
): Promise<(file: string) => T> => {
  const found = new Map<string, T>();
  for (const file of files) if (!found.has(file)) found.set(file, await read(join(folder, file)));
  return (file) => found.get(file) as T;
};

/** What an unloading names, read from the folder it lies in. Throws as the readers do. */
export const readKit = async (folder: string, unloading: Unloading): Promise<Kit> => {
  const settings = unloading.pieces.flatMap((p) => (typeof p.setting === 'string' ? [p.setting] : []));
  return {
    clay: await readClay(join(folder, unloading.clay)),
    schedule: await readSchedule(join(folder, unloading.schedule)),
    form: await readEach<Form>(
      folder,
      unloading.pieces.map((p) => p.form),
      readForm,
    ),
    setting: await readEach<Setting>(folder, settings, async (path) => (await readSetting(path)).setting),
  };
};

/** The schedules that firings of test pieces name, from the folder their file lies in. */
export const schedulesBeside = (
  folder: string,
  { firings }: TestPiecesFile,
): Promise<(file: string) => Schedule> =>
  readEach(
    folder,
    firings.flatMap((f) => f.schedule ?? []),
    readSchedule,
  );
