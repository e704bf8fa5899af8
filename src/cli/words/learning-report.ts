import type { Belief } from '../../making/learning/belief.ts';
import { type Known, tightened } from '../../making/learning/how-right.ts';
import { beliefTold } from '../../making/learning/learned-clay.ts';
import type { LearnedEntry, LearningLog, LogEntry } from '../../making/learning/learning-log.ts';
import { named } from '../../making/learning/names.ts';
import { table } from '../table.ts';
import { list } from './firing-report.ts';

const mm = (x: number): string => x.toFixed(1);

/** Each measure against what was expected of it. */
const measuresTable = ({ predictions }: LearnedEntry): string =>
  predictions.length === 0
    ? ''
    : `\n${table(
        ['piece and measure, mm', 'measured', 'expected', 'four in five', '', 'now expected'],
        predictions.map((p) => {
          const { low_mm, middle_mm, high_mm } = p.before;
          const inside = p.measured_mm >= low_mm && p.measured_mm <= high_mm;
          return [
            `${p.piece}, ${p.attitude}: ${named(p.key)}`,
            mm(p.measured_mm),
            mm(middle_mm),
            `${mm(low_mm)} to ${mm(high_mm)}`,
            inside ? '' : p.measured_mm > high_mm ? 'above' : 'below',
            mm(p.after.middle_mm),
          ];
        }),
      )}`;

const entryTold = (entry: LogEntry): string => {
  const head = `${entry.id}: ${entry.what}`;
  const rule = '='.repeat(head.length);
  if (entry.kind === 'taken back')
    return `${head}\n${rule}\n${entry.entry} no longer counts; it stays in the log.\n`;
  return `${head}\n${rule}\n${measuresTable(entry)}${list('Does not go together', entry.contradictions)}`;
};

/** An interval nobody could know yet is left blank. */
const known = (x: number, digits: number): string => (Number.isFinite(x) ? `±${x.toFixed(digits)}` : '–');

const kilnsTold = ({ kilns }: Known): string =>
  kilns.map((k) => `${k.name} ±${k.plusMinus80_K.toFixed(0)} °C`).join(', ') || '–';

/** How sure one was at the start and after each entry. */
export const tighteningTable = (all: readonly Known[]): string =>
  table(
    ['after', 'softness within a factor', 'movement, mm', 'kilns'],
    all.map((k) => [
      k.entry === undefined ? k.what : `${k.entry}: ${k.what}`,
      k.factor80.toFixed(2),
      known(k.movement_mm, 1),
      kilnsTold(k),
    ]),
  );

/** What was added to a log and what is believed now, to be read in a terminal. */
export const learningReport = (
  path: string,
  log: LearningLog,
  added: readonly LogEntry[],
  belief: Belief,
): string =>
  [
    ...added.map((entry) => `${entryTold(entry)}\n`),
    `${log.name}: believed now\n`,
    ...beliefTold(log, belief).map((sentence) => `  - ${sentence}\n`),
    `\nHow predictions tightened (four in five)\n${tighteningTable(tightened(log))}`,
    `\n${path}: ${log.entries.length} ${log.entries.length === 1 ? 'entry' : 'entries'}; nothing in it is ever deleted.\n`,
  ].join('');

/** The same for programs; the evidence itself stays in the log. */
export const learnedJson = (
  path: string,
  log: LearningLog,
  added: readonly LogEntry[],
  belief: Belief,
): object => ({
  log: path,
  added: added.map((entry) =>
    entry.kind === 'taken back'
      ? { id: entry.id, kind: entry.kind, entry: entry.entry, what: entry.what }
      : {
          id: entry.id,
          kind: entry.kind,
          from: entry.from,
          what: entry.what,
          predictions: entry.predictions,
          contradictions: entry.contradictions,
        },
  ),
  belief,
  told: beliefTold(log, belief),
  tightened: tightened(log),
  entries: log.entries.length,
});
