import { join } from 'node:path';
import { AfterfireError, badInput, badInputs, type Fault } from '../error.ts';
import { temperatureHistory } from '../making/kiln/schedule.ts';
import type { LearningLog, LogEntry } from '../making/learning/learning-log.ts';
import { newLearningLog } from '../making/learning/start.ts';
import type { Unloading } from '../making/learning/unloading.ts';
import { addToLog } from './learning-file.ts';
import { LEARNING, readStudio, type Studio } from './studio-folder.ts';
import { keepUnloading } from './unloading-file.ts';

/** What may be added to a studio's folder. Nothing that lies there is ever changed but logs, which only grow. */
export interface StudioWriter {
  /** @returns the key it is kept under */
  readonly unloading: (unloading: Unloading) => Promise<string>;
  /**
   * Adds an entry to the log of a clay, named as in its file; the log begins with the studio's usual schedule.
   * @param follows id of the last entry its maker knew of; null for none
   */
  readonly learning: (clay: string, follows: string | null, entry: LogEntry) => Promise<Kept>;
}

export interface Kept {
  readonly key: string;
  readonly log: LearningLog;
}

const unknownFile = (field: string, file: string, known: readonly string[], ending: string): Fault => ({
  field,
  value: file,
  expected: `a file of this studio: ${known.map((key) => key + ending).join(', ') || 'there is none yet'}`,
});

/** What an unloading names must lie beside it, or nothing could ever be learned from it. */
const namedFaults = (unloading: Unloading, studio: Studio): Fault[] => {
  const { clays, schedules, forms } = studio;
  const missing = (field: string, file: string, there: object, ending: string): Fault[] =>
    file.slice(0, -ending.length) in there ? [] : [unknownFile(field, file, Object.keys(there), ending)];
  return [
    ...missing('unloading.clay', unloading.clay, clays, '.clay.json'),
    ...missing('unloading.schedule', unloading.schedule, schedules, '.schedule.json'),
    ...unloading.pieces.flatMap((p, i) =>
      missing(`unloading.pieces[${i}].form`, p.form, forms, '.form.json'),
    ),
  ];
};

/** The key of a clay's log, and what it starts from; the log that is there, or one named as the clay's file is. */
const logOf = ({ clays, learning, schedules, studio }: Studio, name: string) => {
  const named = Object.keys(clays).filter((key) => clays[key].name === name);
  const kept = Object.keys(learning).filter((key) => learning[key].clay === name);
  if (kept.length > 1)
    throw new AfterfireError(
      'cannot-do',
      `There are ${kept.length} learning logs of ${name}: ${kept.map((k) => k + LEARNING).join(', ')}. Keep one here and move the others away.`,
    );
  if (kept.length === 0 && named.length !== 1)
    throw badInput(
      'clay',
      name,
      `the name of one clay of this studio: ${Object.values(clays)
        .map((c) => c.name)
        .join(', ')}`,
    );
  const start = (): LearningLog =>
    newLearningLog(clays[named[0]], temperatureHistory(schedules[studio.schedule]));
  return { key: kept[0] ?? named[0], start };
};

export const writerOf = (folder: string): StudioWriter => ({
  unloading: async (unloading) => {
    const faults = namedFaults(unloading, await readStudio(folder));
    if (faults.length > 0) throw badInputs(faults);
    return keepUnloading(folder, unloading);
  },
  learning: async (clay, follows, entry) => {
    const { key, start } = logOf(await readStudio(folder), clay);
    return { key, log: await addToLog(join(folder, `${key}${LEARNING}`), follows, entry, start) };
  },
});
