import { basename, dirname, join } from 'node:path';
import { Command } from 'commander';
import { badInput } from '../../error.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import type { Clay } from '../../making/clay/clay.ts';
import { temperatureHistory } from '../../making/kiln/schedule.ts';
import { referenceClay } from '../../making/learning/evidence.ts';
import {
  beliefNow,
  type Learned,
  learnFromTestPiece,
  learnFromUnloading,
  type Stamp,
  takeBack,
} from '../../making/learning/learn.ts';
import { learnedClay } from '../../making/learning/learned-clay.ts';
import { type LearningLog, type LogEntry, standingEntries } from '../../making/learning/learning-log.ts';
import { newLearningLog } from '../../making/learning/start.ts';
import { testPiecesToLearn } from '../../making/read-test-pieces.ts';
import { heatOf } from '../../making/test-pieces-file.ts';
import { addToLog, readLearningLog, readOrStart } from '../../store/learning-file.ts';
import { readKit, schedulesBeside } from '../../store/learning-kit.ts';
import { LEARNING, readClay, readTestPiecesFile, TEST_PIECES } from '../../store/studio-folder.ts';
import { readUnloading, UNLOADING } from '../../store/unloading-file.ts';
import { drive } from '../drive.ts';
import { engineHere } from '../engine.ts';
import type { Io } from '../io.ts';
import { checkNewClay, keepClay } from '../keep-clay.ts';
import { learnedJson, learningReport } from '../words/learning-report.ts';

interface Options {
  readonly log?: string;
  readonly takeBack?: string;
  readonly why: string;
  readonly clay?: string;
  readonly json?: true;
}

const today = (): string => new Date().toISOString().slice(0, 10);

const newId = (log: LearningLog): string => {
  for (let n = log.entries.length + 1; ; n++) {
    const id = `${today()}-${n}`;
    if (!log.entries.some((e) => e.id === id)) return id;
  }
};

/** One file to learn from: its clay, a log to begin with, and the entries it adds, one after another. */
interface Source {
  readonly clay: Clay;
  readonly clayFile: string;
  readonly start: () => LearningLog;
  readonly learn: readonly ((log: LearningLog) => Promise<Learned>)[];
}

const fromUnloading = async (file: string, engine: MakeEngine | undefined, io: Io): Promise<Source> => {
  const unloading = await readUnloading(file);
  const kit = await readKit(dirname(file), unloading);
  const from = basename(file);
  const stamp = (log: LearningLog): Stamp => ({ id: newId(log), date: unloading.date, from });
  return {
    clay: kit.clay,
    clayFile: unloading.clay,
    start: () => newLearningLog(kit.clay, temperatureHistory(kit.schedule)),
    learn: [
      (log) =>
        drive(`learning from ${from}`, learnFromUnloading(log, unloading, kit, stamp(log), engine), io),
    ],
  };
};

const fromTestPieces = async (file: string, log: string | undefined, io: Io): Promise<Source> => {
  const pieces = await readTestPiecesFile(file);
  const folder = dirname(file);
  const scheduleOf = await schedulesBeside(folder, pieces);
  const clay = await readClay(join(folder, pieces.clay));
  const start = (): LearningLog => newLearningLog(clay, heatOf(pieces.firings[0], scheduleOf));
  const { reference, entries } = await readOrStart(log ?? logBeside(file, pieces.clay), start);
  const told = testPiecesToLearn(pieces, referenceClay(clay, { reference }), reference.at_C, scheduleOf);
  if (told.length === 0)
    throw badInput(
      file,
      'nothing that gives a value',
      'a sag bar that hung free, or witness cones that bent',
    );
  const fromOf = (firing: string): string => `${basename(file)}, ${firing}`;
  const known = new Set(standingEntries({ entries } as LearningLog).map((e) => e.from));
  const fresh = told.filter(({ firing }) => !known.has(fromOf(firing)));
  for (const { firing } of told)
    if (known.has(fromOf(firing)) && fresh.length > 0) io.err(`${fromOf(firing)}: learned from already\n`);
  return {
    clay,
    clayFile: pieces.clay,
    start,
    // Where all of it is known already, learning says so.
    learn: (fresh.length > 0 ? fresh : told).map((piece) => async (now) => {
      const date = pieces.firings.find((f) => f.name === piece.firing)?.date ?? today();
      return learnFromTestPiece(now, piece, clay, piece.heat, {
        id: newId(now),
        date,
        from: fromOf(piece.firing),
      });
    }),
  };
};

const logBeside = (file: string, clayFile: string): string =>
  join(dirname(file), clayFile.replace(/\.clay\.json$/, LEARNING));

const sourceOf = (
  file: string,
  options: Options,
  engine: MakeEngine | undefined,
  io: Io,
): Promise<Source> => {
  if (file.endsWith(UNLOADING)) return fromUnloading(file, engine, io);
  if (file.endsWith(TEST_PIECES)) return fromTestPieces(file, options.log, io);
  throw badInput('file', file, `a file ending in ${UNLOADING} or ${TEST_PIECES}`);
};

const checkOptions = (files: readonly string[], { log, takeBack, clay }: Options): void => {
  if (log !== undefined && !log.endsWith(LEARNING))
    throw badInput('--log', log, `a name ending in ${LEARNING}`);
  if (files.length === 0 && log === undefined)
    throw badInput('--log', undefined, 'the learning log, or files to learn from');
  if (files.length > 0 && takeBack !== undefined)
    throw badInput('--take-back', takeBack, 'no files to learn from beside it: one thing at a time');
  if (files.length === 0 && takeBack === undefined && clay !== undefined)
    throw badInput('--clay', clay, 'files to learn from: their clay is the one that is renewed');
};

const takeBackIn = async (path: string, id: string, why: string): Promise<LogEntry> => {
  const log = await readLearningLog(path);
  const longer = takeBack(log, id, why, { id: newId(log), date: today() });
  const entry = longer.entries.at(-1) as LogEntry;
  await addToLog(path, log.entries.at(-1)?.id ?? null, entry, () => log);
  return entry;
};

/** Each entry is kept as soon as it is made: what is stopped half way keeps what was done. */
const learnFrom = async (files: readonly string[], options: Options, io: Io) => {
  const engine = engineHere();
  const added: LogEntry[] = [];
  let last: { readonly source: Source; readonly path: string } | undefined;
  for (const file of files) {
    const source = await sourceOf(file, options, engine, io);
    const path = options.log ?? logBeside(file, source.clayFile);
    for (const step of source.learn) {
      const log = await readOrStart(path, source.start);
      const { entry } = await step(log);
      await addToLog(path, log.entries.at(-1)?.id ?? null, entry, source.start);
      added.push(entry);
    }
    last = { source, path };
  }
  return { added, last };
};

const learn = async (files: readonly string[], options: Options, io: Io): Promise<void> => {
  checkOptions(files, options);
  await checkNewClay(options.clay);
  const { added, last } =
    options.takeBack !== undefined
      ? { added: [await takeBackIn(options.log as string, options.takeBack, options.why)], last: undefined }
      : await learnFrom(files, options, io);
  const path = last?.path ?? (options.log as string);
  const log = await readLearningLog(path);
  const belief = beliefNow(log);
  io.out(
    options.json
      ? `${JSON.stringify(learnedJson(path, log, added, belief), null, 2)}\n`
      : learningReport(path, log, added, belief),
  );
  if (options.clay !== undefined && last)
    await keepClay(options.clay, learnedClay(last.source.clay, log, belief), io);
};

export const learnCommand = (io: Io): Command =>
  new Command('learn')
    .description(
      'learn from what came out: adds unloadings and test pieces to a log, and says what is believed now',
    )
    .argument(
      '[files...]',
      `files ending in ${UNLOADING} or ${TEST_PIECES}; without any, what the log says is told`,
    )
    .option('--log <file>', `the log to add to (default: beside the file, named as its clay, ${LEARNING})`)
    .option(
      '--take-back <id>',
      'take back an entry of the log; nothing is deleted, and that can be taken back too',
    )
    .option('--why <words>', 'why it is taken back', 'taken back by hand')
    .option('--clay <file>', 'also write the clay as learned, as a new file; none is written over')
    .option('--json', 'the answer as JSON')
    .action((files: string[], options: Options) => learn(files, options, io));
