import { badInput } from '../../error.ts';
import { softnessBefore } from '../../making/clay/test-pieces/sag-bars.ts';
import { readTestPieces } from '../../making/read-test-pieces.ts';
import { parseTestPieces } from '../../making/test-pieces-file.ts';
import { answerWith } from './job-end.ts';
import type { TestPiecesAsk, TestPiecesTold } from './test-pieces-jobs.ts';

answerWith<TestPiecesAsk>(({ json, clay, schedules, leaveOut }): TestPiecesTold => {
  const file = parseTestPieces(json);
  const scheduleOf = (name: string) => {
    const schedule = schedules[name.replace(/\.schedule\.json$/, '')];
    if (!schedule) throw badInput('test-pieces.firings', name, 'a schedule of this studio');
    return schedule;
  };
  const names = new Set(file.sagBars.map((b) => b.name));
  const finding = readTestPieces(file, clay, scheduleOf, { leaveOut: leaveOut.filter((n) => names.has(n)) });
  return { finding, before: softnessBefore(clay), from: clay };
});
