import { access } from 'node:fs/promises';
import { appendEntry } from '../making/learning/append-entry.ts';
import { type LearningLog, type LogEntry, parseLearningLog } from '../making/learning/learning-log.ts';
import { parseFile } from './json-text.ts';
import { readText } from './read-text.ts';
import { changeFile } from './write-file.ts';

/** An entry has some 20 kB, so this is a studio's lifetime of firings. */
const MAX_LEARNING_BYTES = 60_000_000;

export const readLearningLog = async (path: string): Promise<LearningLog> =>
  parseFile(path, await readText(path, MAX_LEARNING_BYTES), parseLearningLog);

const there = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );

/** The log, or a new one where there is no file yet. */
export const readOrStart = async (path: string, start: () => LearningLog): Promise<LearningLog> =>
  (await there(path)) ? readLearningLog(path) : start();

/**
 * Adds one entry to a log's file: read, checked and written with nobody in between, whole or not at all.
 * @param start the log to begin with where there is no file yet
 * @throws AfterfireError as `appendEntry`, the readers and the disk do; the file is then as it was
 */
export const addToLog = (
  path: string,
  follows: string | null,
  entry: LogEntry,
  start: () => LearningLog,
): Promise<LearningLog> =>
  changeFile(path, async () => {
    const log = appendEntry(await readOrStart(path, start), follows, entry);
    return { text: `${JSON.stringify(log, null, 2)}\n`, value: log };
  });
