import { Command } from 'commander';
import { fire } from '../../making/firing/fire.ts';
import { drawBadForm, drawBadSetting } from '../draw-fault.ts';
import { drive } from '../drive.ts';
import { engineHere } from '../engine.ts';
import { addFiringOptions, type FiringOptions, nameOf, plannedFirings } from '../firing-options.ts';
import type { Io } from '../io.ts';
import type { Shown } from '../shown.ts';
import { firingJson } from '../words/firing-json.ts';
import { firingReport } from '../words/firing-report.ts';
import { checkFolder, sheetOf, type Wanted, writeDrawing, writeShapes } from '../write-files.ts';

interface Options extends FiringOptions, Wanted {
  readonly inHand?: true;
  readonly json?: true;
}

/** Says and writes what came out. */
const tell = async (name: string, shown: readonly Shown[], options: Options, io: Io): Promise<void> => {
  const { inHand } = options;
  if (options.json)
    io.out(
      `${JSON.stringify(
        shown.map((one) => firingJson(one, inHand)),
        null,
        2,
      )}\n`,
    );
  else io.out(shown.map((one) => firingReport(one, inHand)).join('\n\n'));
  if (shown.length === 0) return;
  const written = await writeDrawing(name, sheetOf(shown[0].firing.input.form.name, shown), options);
  written.push(...(await writeShapes(name, shown, options)));
  for (const path of written) io.err(`wrote ${path}\n`);
};

/** Runs the work; where what was asked is at fault, that is drawn before it is told. */
const drawingFaults = async <T>(
  work: () => Promise<T>,
  draw: (error: unknown) => Promise<string | undefined>,
  name: string,
  options: Options,
  io: Io,
): Promise<T> => {
  try {
    return await work();
  } catch (error) {
    // Beside the drawings that went well, not in their place.
    const svg = options.svg || options.png ? await draw(error) : undefined;
    if (svg !== undefined)
      for (const path of await writeDrawing(`${name}-at-fault`, svg, options)) io.err(`wrote ${path}\n`);
    throw error;
  }
};

const fireAll = async (formFile: string, options: Options, io: Io): Promise<void> => {
  const name = nameOf(formFile);
  await checkFolder(options);
  const planned = await drawingFaults(
    () => plannedFirings(formFile, options),
    (error) => drawBadForm(formFile, error),
    name,
    options,
    io,
  );
  const engine = engineHere();
  const shown: Shown[] = [];
  try {
    for (const plan of planned) {
      const firing = await drawingFaults(
        () => drive(`firing ${plan.called}`, fire(plan.input, engine), io),
        (error) => drawBadSetting(plan, error),
        `${name}-${plan.file}`,
        options,
        io,
      );
      shown.push({ ...plan, firing });
    }
  } catch (error) {
    // What was fired before is not lost with the one that could not be.
    if (shown.length > 0) await tell(name, shown, options, io);
    throw error;
  }
  await tell(name, shown, options, io);
};

export const fireCommand = (io: Io): Command =>
  addFiringOptions(
    new Command('fire')
      .description('fire a form: what comes out, how far it moved, and how sure that is')
      .argument('<form.json>', 'the form (see: afterfire schema form)'),
  )
    .option('--in-hand', 'also how it gives when it is squeezed or pressed, before the fire and after')
    .option('--json', 'the answer as JSON in SI units')
    .option('--svg', 'draw the section before and after, at true size; what is at fault in red')
    .option('--png', 'the same drawing as a picture')
    .option('--gltf', 'before and after in three dimensions, and the props (binary glTF, metres)')
    .option('--stl', 'the fired piece for printing (binary STL, millimetres)')
    .option('--out <folder>', 'where drawings and exports go', '.')
    .action((formFile: string, options: Options) => fireAll(formFile, options, io));
