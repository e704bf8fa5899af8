import type { Bias, HowRight, Known } from '../../making/learning/how-right.ts';
import type { LearningLog } from '../../making/learning/learning-log.ts';
import { table } from '../table.ts';
import { tighteningTable } from './learning-report.ts';

/** One log with what it says of us. */
export interface Judged {
  readonly path: string;
  readonly log: LearningLog;
  readonly right: HowRight;
  readonly tightened: readonly Known[];
}

const mm = (x: number): string => x.toFixed(1);
const percent = (share: number): string => (Number.isFinite(share) ? `${Math.round(100 * share)} %` : '–');

const biasTable = (by: string, biases: readonly Bias[]): string =>
  biases.length === 0
    ? ''
    : `\n${table(
        [by, 'of', 'pieces', 'measures', 'inside', 'measured less predicted, mm'],
        biases.map((b) => [
          b.group,
          b.about,
          String(b.pieces),
          String(b.measures),
          percent(b.inside),
          `${mm(b.mean_mm)}${Number.isFinite(b.plusMinus_mm) ? ` ± ${mm(b.plusMinus_mm)}` : ''}`,
        ]),
      )}`;

/** How right we were for one clay, to be read in a terminal. */
export const rightReport = ({ path, log, right, tightened }: Judged): string => {
  const head = `${log.name}: how right we were`;
  const [low, high] = right.due;
  return [
    `${head}\n${'='.repeat(head.length)}\n${right.text}\n`,
    right.rows.length === 0
      ? ''
      : `Inside their interval: ${percent(right.inside)}; 80 % were promised, and ${percent(low)} to ${percent(high)} is what ${right.pieces} pieces can tell.\n`,
    right.rows.length === 0
      ? ''
      : `\n${table(
          ['piece and measure, mm', 'kiln', 'measured', 'expected', 'four in five', ''],
          right.rows.map((r) => [
            `${r.date} ${r.piece}, ${r.attitude}: ${r.name}`,
            r.kiln,
            mm(r.measured_mm),
            mm(r.middle_mm),
            `${mm(r.low_mm)} to ${mm(r.high_mm)}`,
            r.inside ? '' : r.measured_mm > r.high_mm ? 'above' : 'below',
          ]),
        )}`,
    biasTable('attitude', right.byAttitude),
    biasTable('kiln', right.byKiln),
    `\nHow predictions tightened (four in five)\n${tighteningTable(tightened)}`,
    `\nFrom ${path}. Each interval is the one that was given before it was learned from.\n`,
  ].join('');
};
