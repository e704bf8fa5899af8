import { AfterfireError, badInput } from '../../error.ts';
import { type LearningLog, type LogEntry, standingEntries } from './learning-log.ts';

/**
 * Adds an entry that was made somewhere else (on a page, in another program) to the log as it is now kept.
 * @param follows id of the last entry its maker knew of; null for none
 * @throws AfterfireError `cannot-do` where the log has grown meanwhile: what was believed before is not what the entry says;
 *   `bad-input` where its id is taken, it was learned from already, or what it takes back does not count
 */
export const appendEntry = (log: LearningLog, follows: string | null, entry: LogEntry): LearningLog => {
  const last = log.entries.at(-1)?.id ?? null;
  if (last !== follows)
    throw new AfterfireError(
      'cannot-do',
      `The learning log has changed meanwhile: its last entry is ${last ?? 'none'}, not ${follows ?? 'none'}. Read it anew and learn again; nothing was written.`,
    );
  if (log.entries.some((e) => e.id === entry.id))
    throw badInput('entry.id', entry.id, 'another id than those already in the log');
  const standing = standingEntries(log);
  if (entry.kind !== 'taken back' && standing.some((e) => e.from === entry.from))
    throw badInput('entry.from', entry.from, 'something not yet learned from; take that entry back first');
  const longer = { ...log, entries: [...log.entries, entry] };
  if (entry.kind === 'taken back' && standingEntries(longer).length === standing.length)
    throw badInput('entry.entry', entry.entry, 'the id of an entry that still counts');
  return longer;
};
