import type { LearningLog, LogEntry } from '../../making/learning/learning-log.ts';
import type { Unloading } from '../../making/learning/unloading.ts';
import { askServer } from '../share/ask.ts';

/** What the studio keeps of unloadings and of learning; the server adds and never overwrites. */

/** @returns the key it is kept under */
export const keepUnloading = async (unloading: Unloading): Promise<string> =>
  (await askServer<{ key: string }>('/api/unloadings', 'POST', unloading)).key;

/**
 * Adds the last entry of a log to what is kept.
 * @returns the log as it is kept now
 */
export const keepLastEntry = async ({ clay, entries }: LearningLog): Promise<LearningLog> => {
  const entry = entries.at(-1) as LogEntry;
  const follows = entries.at(-2)?.id ?? null;
  return (await askServer<{ log: LearningLog }>('/api/learning', 'POST', { clay, follows, entry })).log;
};
