import { Command } from 'commander';
import type { TemperatureHistory } from '../../making/clay/temperature-history.ts';
import { type ConeSeen, heatWork } from '../../making/kiln/heat-work.ts';
import { judgeHeat } from '../../making/kiln/judge-heat.ts';
import { temperatureHistory } from '../../making/kiln/schedule.ts';
import { readClay, readSchedule, usualFiles } from '../../store/studio-folder.ts';
import { celsiusFromKelvin, fahrenheitFromCelsius } from '../../units.ts';
import { demoFolder } from '../home.ts';
import type { Io } from '../io.ts';
import { table } from '../table.ts';
import { SAFETY } from '../words/safety.ts';

const duration = (time_s: number): string => {
  const minutes = Math.round(time_s / 60);
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
};

/** The cones a person would set: those on their way, and one on either side. */
const worthShowing = (cones: readonly ConeSeen[]): ConeSeen[] => {
  const moving = cones.map(({ bend }) => bend > 0 && bend < 1);
  const lastDown = cones.findLastIndex(({ bend }) => bend >= 1);
  return cones.filter((_, i) => moving[i] || Math.abs(i - lastDown) <= 1 || i === lastDown + 2);
};

const standing = { stored: '', 'stored-as-F': 'chart in °F', memory: 'chart from memory' } as const;

const coneTable = (cones: readonly ConeSeen[]): string =>
  table(
    ['cone', 'bent', 'heat-work', 'source'],
    worthShowing(cones).map((c) => [
      c.cone,
      `${Math.round(100 * c.bend)} %`,
      `${Math.round(100 * c.work)} %`,
      standing[c.standing],
    ]),
  );

const peak_K = (history: TemperatureHistory): number =>
  history.temperature_K.reduce((a, b) => Math.max(a, b), 0);

export const heatWorkCommand = (io: Io): Command =>
  new Command('heat-work')
    .description('what a schedule does, as cones would show it')
    .argument('<schedule.json>', 'the schedule (see: afterfire schema schedule)')
    .option('--clay <file>', "the clay it is judged for (default: the demo studio's)")
    .option('--json', 'the answer as JSON in SI units')
    .action(async (path: string, options: { clay?: string; json?: true }) => {
      const schedule = await readSchedule(path);
      const clay = await readClay(options.clay ?? (await usualFiles(demoFolder())).clay);
      const history = temperatureHistory(schedule);
      const work = heatWork(history);
      const remarks = judgeHeat(history, clay);
      const peak_C = celsiusFromKelvin(peak_K(history));
      const duration_s = history.time_s.at(-1) ?? 0;
      if (options.json) {
        const answer = { schedule: schedule.name, peak_K: peak_K(history), duration_s, ...work, remarks };
        io.out(`${JSON.stringify(answer, null, 2)}\n`);
        return;
      }
      const peak = `${Math.round(peak_C)} °C (${Math.round(fahrenheitFromCelsius(peak_C))} °F)`;
      io.out(`${schedule.name}: ${work.text}\n`);
      io.out(`Peak ${peak}, ${duration(duration_s)} in all, cooling included.\n\n`);
      io.out(coneTable(work.cones));
      io.out('\nHeat-work: 100 % lays that cone down; 200 % is twice the heat it takes.\n');
      for (const { text, field, value, expected } of remarks)
        io.out(`\n${clay.name}: ${text}\n  ${field} is ${value}; better ${expected}\n`);
      io.out(`\n${SAFETY}\n`);
    });
