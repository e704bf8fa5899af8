import { dirname, join } from 'node:path';
import { Command } from 'commander';
import { badInput } from '../../error.ts';
import { readTestPieces } from '../../making/read-test-pieces.ts';
import { schedulesBeside } from '../../store/learning-kit.ts';
import { readClay, readTestPiecesFile } from '../../store/studio-folder.ts';
import type { Io } from '../io.ts';
import { checkNewClay, keepClay } from '../keep-clay.ts';
import { testPiecesJson, testPiecesReport } from '../words/test-pieces-report.ts';

interface Options {
  readonly clay?: string;
  readonly leaveOut?: readonly string[];
  readonly json?: true;
}

const tell = async (path: string, options: Options, io: Io): Promise<void> => {
  await checkNewClay(options.clay);
  const file = await readTestPiecesFile(path);
  const { leaveOut = [] } = options;
  const names = file.sagBars.map(({ name }) => name);
  for (const name of leaveOut)
    if (!names.includes(name))
      throw badInput('--leave-out', name, `a sag bar of this file: ${names.join(', ') || 'there is none'}`);
  const clay = await readClay(join(dirname(path), file.clay));
  const found = readTestPieces(file, clay, await schedulesBeside(dirname(path), file), { leaveOut });
  io.out(
    options.json
      ? `${JSON.stringify(testPiecesJson(file, found), null, 2)}\n`
      : testPiecesReport(file, clay, found, leaveOut),
  );
  if (options.clay === undefined) return;
  if (found.disagreements.length > 0)
    throw badInput(
      '--clay',
      found.disagreements.join('; '),
      'values that go together: mend or measure one of them, then write the clay',
    );
  await keepClay(options.clay, found.clay, io);
};

export const testPiecesCommand = (io: Io): Command =>
  new Command('test-pieces')
    .description(
      'what test pieces say of their clay and kilns: softness, shrinkages, pores, what the thermometer is off by',
    )
    .argument('<file.test-pieces.json>', 'the test pieces (see: afterfire schema test-pieces)')
    .option(
      '--leave-out <bar>',
      'a sag bar that is read but does not count; may be given several times',
      (name: string, before: readonly string[] = []) => [...before, name],
    )
    .option(
      '--clay <file>',
      'also write the clay with all that was measured, as a new file; none is written over',
    )
    .option('--json', 'the answer as JSON')
    .action((path: string, options: Options) => tell(path, options, io));
