import { Command } from 'commander';
import type { Clay } from '../../making/clay/clay.ts';
import { clayValues } from '../../making/clay/provenance.ts';
import { massBetween, type State, scaleBetween } from '../../making/clay/shrinkage.ts';
import type { Form } from '../../making/form/form.ts';
import { measure } from '../../making/form/measure.ts';
import type { Measures } from '../../making/form/measures.ts';
import { meshForm } from '../../making/form/mesh-form.ts';
import { readClay, readForm, usualFiles } from '../../store/studio-folder.ts';
import { demoFolder } from '../home.ts';
import type { Io } from '../io.ts';
import { numberFrom, TRIANGLES } from '../options.ts';
import { table } from '../table.ts';
import { measuresOf } from '../words/measures-table.ts';
import { quantityOf } from '../words/quantity.ts';

const STATES = ['wet', 'dry', 'fired'] as const satisfies readonly State[];

/** The form in one state of its clay, only dried and shrunk: nothing has moved. */
const measuresIn = (state: State, form: Form, clay: Clay, triangles: number): Measures => {
  const drawn: State = form.sizes === 'thrown' ? 'wet' : 'fired';
  const fromDry = scaleBetween(clay, 'dry', state);
  const density = (clay.boneDryDensity.value_kg_m3 * massBetween(clay, 'dry', state)) / fromDry ** 3;
  return measure(meshForm(form, { triangles, scale: scaleBetween(clay, drawn, state) }), density);
};

const measuresTable = (all: Readonly<Record<(typeof STATES)[number], Measures>>): string => {
  const columns = STATES.map((state) => measuresOf(all[state]));
  const rows = Object.keys(columns[0]).map((key) => {
    const { label, unit, told } = quantityOf(key);
    return [`${label}, ${unit}`, ...columns.map((column) => told(column[key]))];
  });
  return table(['', 'as thrown', 'bone dry', 'fired, only shrunk'], rows);
};

interface Options {
  readonly clay?: string;
  readonly triangles: string;
  readonly json?: true;
}

export const measuresCommand = (io: Io): Command =>
  new Command('measures')
    .description('what a tape, a scale and a jug would say of a form, wet, dry and shrunk; nothing is fired')
    .argument('<form.json>', 'the form (see: afterfire schema form)')
    .option('--clay <file>', "the clay (default: the demo studio's)")
    .option('--triangles <number>', 'how fine: about this many triangles', String(TRIANGLES.usual))
    .option('--json', 'the answer as JSON in SI units')
    .action(async (path: string, options: Options) => {
      const triangles = numberFrom('--triangles', options.triangles, TRIANGLES.least, TRIANGLES.most, true);
      const form = await readForm(path);
      const clay = await readClay(options.clay ?? (await usualFiles(demoFolder())).clay);
      const [wet, dry, fired] = STATES.map((state) => measuresIn(state, form, clay, triangles));
      const all = { wet, dry, fired };
      const provenance = clayValues(clay)
        .filter(({ name }) => /shrinkage|density|ignition|moisture/i.test(name))
        .map(({ name, value, from }) => `${name}: ${value} (${from}).`);
      if (options.json) {
        io.out(
          `${JSON.stringify({ form: form.name, clay: clay.name, measures: all, provenance }, null, 2)}\n`,
        );
        return;
      }
      io.out(`${form.name}: ${clay.name}\n\n${measuresTable(all)}\n`);
      io.out(`How sure\n${provenance.map((sentence) => `  - ${sentence}\n`).join('')}`);
    });
