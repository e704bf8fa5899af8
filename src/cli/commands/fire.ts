import { basename } from 'node:path';
import { Command, Option } from 'commander';
import { wasmEngine } from '../../kernel/numerics/wasm-engine.ts';
import { fire } from '../../making/firing/fire.ts';
import type { Firing, FiringInput } from '../../making/firing/firing.ts';
import { Setting } from '../../making/firing/setting.ts';
import { readClay, readForm, readSchedule, usualFiles } from '../../store/studio-folder.ts';
import { drive } from '../drive.ts';
import { forgeHere } from '../forge.ts';
import { demoFolder } from '../home.ts';
import type { Io } from '../io.ts';
import { ATTITUDES, attitudesFrom, numberFrom, TRIANGLES } from '../options.ts';
import { firingJson } from '../words/firing-json.ts';
import { firingReport } from '../words/firing-report.ts';
import { checkFolder, type Wanted, writeFiles } from '../write-files.ts';

/** The shelf a piece stands on unless something else is said: the schema's own default. */
const USUAL = Setting.parse({ attitude: 'upright' });

interface Options extends Wanted {
  readonly clay?: string;
  readonly schedule?: string;
  readonly setting: string;
  readonly turn: string;
  readonly shelf: string;
  readonly triangles: string;
  readonly quick?: true;
  readonly json?: true;
}

const inputsFrom = async (formFile: string, options: Options): Promise<FiringInput[]> => {
  const usual = await usualFiles(demoFolder());
  const turn_deg = numberFrom('--turn', options.turn, -360, 360);
  const triangles = numberFrom('--triangles', options.triangles, TRIANGLES.least, TRIANGLES.most, true);
  const attitudes = attitudesFrom('--setting', options.setting);
  const form = await readForm(formFile);
  const clay = await readClay(options.clay ?? usual.clay);
  const schedule = await readSchedule(options.schedule ?? usual.schedule);
  return attitudes.map((attitude) => ({
    form,
    clay,
    schedule,
    setting: Setting.parse({ attitude, turn_deg, shelf: options.shelf }),
    triangles,
    care: options.quick ? 'quick' : 'full',
  }));
};

const fireAll = async (formFile: string, options: Options, io: Io): Promise<void> => {
  const firings: Firing[] = [];
  const inputs = await inputsFrom(formFile, options);
  await checkFolder(options);
  const forge = forgeHere();
  const engine = forge && wasmEngine(forge);
  for (const input of inputs)
    firings.push(await drive(`firing ${input.setting.attitude}`, fire(input, engine), io));
  if (options.json) io.out(`${JSON.stringify(firings.map(firingJson), null, 2)}\n`);
  else io.out(firings.map(firingReport).join('\n\n'));
  const name = basename(formFile).replace(/(\.form)?\.json$/, '');
  for (const path of await writeFiles(name, firings, options)) io.err(`wrote ${path}\n`);
};

export const fireCommand = (io: Io): Command =>
  new Command('fire')
    .description('fire a form: what comes out, how far it moved, and how sure that is')
    .argument('<form.json>', 'the form (see: afterfire schema form)')
    .option('--clay <file>', "the clay (default: the demo studio's)")
    .option('--schedule <file>', "the schedule (default: the demo studio's)")
    .option('--setting <how>', `how it stands: ${Object.keys(ATTITUDES).join(', ')}, or all`, 'upright')
    .option(
      '--turn <degrees>',
      'on its side: turned about its own axis by this first',
      String(USUAL.turn_deg),
    )
    .addOption(
      new Option('--shelf <kind>', 'whether the ware slides on the shelf as it shrinks, or grips it')
        .choices(['slides', 'grips'])
        .default(USUAL.shelf),
    )
    .option('--triangles <number>', 'how fine: about this many triangles', String(TRIANGLES.usual))
    .option('--quick', 'a handful of steps instead of an error bound: a first look')
    .option('--json', 'the answer as JSON in SI units')
    .option('--svg', 'draw the section before and after, at true size')
    .option('--png', 'the same drawing as a picture')
    .option('--gltf', 'before and after in three dimensions (binary glTF, metres)')
    .option('--stl', 'the fired piece for printing (binary STL, millimetres)')
    .option('--out <folder>', 'where drawings and exports go', '.')
    .action((formFile: string, options: Options) => fireAll(formFile, options, io));
