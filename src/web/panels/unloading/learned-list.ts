import { h } from 'preact';
import {
  type LearnedEntry,
  type LearningLog,
  standingEntries,
} from '../../../making/learning/learning-log.ts';
import { type Desk, keyOfFile } from '../../state/learning.ts';

/** The entry to take back so that this one counts, or no longer counts. */
const undoing = (log: LearningLog, entry: LearnedEntry, stands: boolean): string =>
  stands
    ? entry.id
    : (log.entries.findLast((e) => e.kind === 'taken back' && e.entry === entry.id)?.id ?? entry.id);

/** Every update there ever was, newest first; those taken back are crossed out, and may be counted again. */
export const LearnedList = ({
  desk,
  clay,
  log,
}: {
  readonly desk: Desk;
  readonly clay: string;
  readonly log: LearningLog;
}) => {
  const standing = new Set(standingEntries(log).map((e) => e.id));
  const entries = log.entries.filter((e): e is LearnedEntry => e.kind !== 'taken back').toReversed();
  if (entries.length === 0) return null;
  return h(
    'section',
    { class: 'learned-list', 'aria-label': 'Updates' },
    h('h2', null, 'Every update, newest first'),
    h(
      'ol',
      { reversed: true },
      entries.map((entry) => {
        const stands = standing.has(entry.id);
        const key = keyOfFile(entry.from);
        return h(
          'li',
          { key: entry.id, 'data-entry': entry.id, 'data-stands': stands },
          h(
            stands ? 'span' : 's',
            null,
            h('time', { dateTime: entry.date }, entry.date),
            ' ',
            entry.kind === 'unloading' ? h('a', { href: `#unloading/${key}` }, entry.what) : entry.what,
          ),
          !stands && h('small', null, 'taken back: it no longer counts'),
          h(
            'button',
            {
              type: 'button',
              'data-do': stands ? 'take-back' : 'count-again',
              disabled: desk.now().running !== undefined,
              'aria-label': `${stands ? 'Take back' : 'Count again'}: ${entry.what}`,
              onClick: () => void desk.takeBack(clay, undoing(log, entry, stands)),
            },
            stands ? 'Take back' : 'Count again',
          ),
        );
      }),
    ),
  );
};
