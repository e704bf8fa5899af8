import { Command } from 'commander';
import { parseReduced, type ReducedResult, runReduced } from '../../kernel/shell/reduced.ts';
import { parseFile } from '../../store/json-text.ts';
import { readText } from '../../store/read-text.ts';
import { drive } from '../drive.ts';
import type { Io } from '../io.ts';
import { table } from '../table.ts';

/** A raw mesh is far longer than anything a person writes: about 100,000 triangles fit. */
export const MAX_PROBLEM_BYTES = 50_000_000;

function* withNotes(run: Generator<number, ReducedResult, void>) {
  for (let step = run.next(); ; step = run.next()) {
    if (step.done) return step.value;
    yield { fraction: step.value, note: '' };
  }
}

/** Where the mesh reaches at each time, mm: enough to compare by eye; `--json` has every node. */
const spans = ({ times_s, positions_m }: ReducedResult): string => {
  const rows = times_s.map((time, i) => {
    const reach = [0, 1, 2].flatMap((axis) => {
      let [low, high] = [Infinity, -Infinity];
      for (let k = axis; k < positions_m[i].length; k += 3) {
        low = Math.min(low, positions_m[i][k]);
        high = Math.max(high, positions_m[i][k]);
      }
      return [low, high].map((x) => (1000 * x).toFixed(3));
    });
    return [String(time), ...reach];
  });
  return table(['time s', 'x from mm', 'to', 'y from mm', 'to', 'z from mm', 'to'], rows);
};

export const reducedCommand = (io: Io): Command =>
  new Command('reduced')
    .description('run the mechanics alone on a raw mesh with constants, to compare with another solver')
    .argument(
      '<problem.json>',
      'mesh, wall, density, viscosity and times in SI (see: afterfire schema reduced)',
    )
    .option('--json', 'every node at every time, as JSON in metres')
    .action(async (path: string, options: { json?: true }) => {
      const problem = parseFile(path, await readText(path, MAX_PROBLEM_BYTES), parseReduced);
      const result = await drive('creeping', withNotes(runReduced(problem)), io);
      if (options.json) {
        const { times_s, stepError_m, end } = result;
        const positions_m = result.positions_m.map((p) => Array.from(p));
        const ended = { kind: end.kind, time_s: end.time_s, steps: end.steps };
        io.out(`${JSON.stringify({ ended, stepError_m, times_s, positions_m })}\n`);
        return;
      }
      io.out(`${problem.what ?? path}\n\n${spans(result)}\nended: ${result.end.kind}\n`);
    });
