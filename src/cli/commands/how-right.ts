import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { Command } from 'commander';
import { badInput } from '../../error.ts';
import { howRight, tightened } from '../../making/learning/how-right.ts';
import { readLearningLog } from '../../store/learning-file.ts';
import { LEARNING, learningFilesIn } from '../../store/studio-folder.ts';
import { rightChart } from '../drawing/right-chart.ts';
import { demoFolder } from '../home.ts';
import type { Io } from '../io.ts';
import { type Judged, rightReport } from '../words/right-report.ts';
import { checkFolder, type Wanted, writeDrawing } from '../write-files.ts';

interface Options extends Pick<Wanted, 'svg' | 'png' | 'out'> {
  readonly json?: true;
}

const logsIn = async (place: string): Promise<string[]> => {
  const isFolder = await stat(place).then(
    (s) => s.isDirectory(),
    () => false,
  );
  if (!isFolder) return [place];
  const found = await learningFilesIn(place);
  if (found.length === 0)
    throw badInput(
      place,
      'no learning log',
      `a folder with a file ending in ${LEARNING} (afterfire learn makes one)`,
    );
  return found;
};

const judge = async (path: string): Promise<Judged> => {
  const log = await readLearningLog(path);
  return { path, log, right: howRight(log), tightened: tightened(log) };
};

const tell = async (places: readonly string[], options: Options, io: Io): Promise<void> => {
  await checkFolder(options);
  const paths = (await Promise.all((places.length > 0 ? places : [demoFolder()]).map(logsIn))).flat();
  const judged = await Promise.all(paths.map(judge));
  if (options.json) {
    const told = judged.map(({ path, log, right, tightened }) => ({
      log: path,
      clay: log.clay,
      ...right,
      tightened,
    }));
    io.out(`${JSON.stringify(told, null, 2)}\n`);
  } else io.out(judged.map(rightReport).join('\n\n'));
  for (const one of judged) {
    const name = `${basename(one.path, LEARNING)}-how-right`;
    for (const path of await writeDrawing(name, rightChart(one), options)) io.err(`wrote ${path}\n`);
  }
};

export const howRightCommand = (io: Io): Command =>
  new Command('how-right')
    .description(
      'how right we were: every measured piece against what was expected before it was learned from',
    )
    .argument('[places...]', `studio folders, or files ending in ${LEARNING} (default: the demo studio)`)
    .option('--json', 'the answer as JSON')
    .option('--svg', 'draw predicted against measured, with the intervals')
    .option('--png', 'the same drawing as a picture')
    .option('--out <folder>', 'where the drawings go', '.')
    .action((places: string[], options: Options) => tell(places, options, io));
