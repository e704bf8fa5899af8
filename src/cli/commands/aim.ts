import { access } from 'node:fs/promises';
import { basename } from 'node:path';
import { Command } from 'commander';
import { AfterfireError, badInput } from '../../error.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { aim } from '../../making/firing/aim/aim.ts';
import type { AimInput } from '../../making/firing/aim/aim-contract.ts';
import { bestSetting } from '../../making/firing/makeable/best-setting.ts';
import { makeable } from '../../making/firing/makeable/makeable.ts';
import type { BestSetting, Makeable } from '../../making/firing/makeable/makeable-contract.ts';
import { wallFor } from '../../making/firing/makeable/wall-for.ts';
import { writeNew } from '../../store/write-file.ts';
import { aimSheet } from '../drawing/aim-sheet.ts';
import { drive } from '../drive.ts';
import { engineHere } from '../engine.ts';
import { glbOfAim } from '../export/aim-shapes.ts';
import {
  addFiringOptions,
  type FiringOptions,
  nameOf,
  type Planned,
  plannedFirings,
} from '../firing-options.ts';
import type { Io } from '../io.ts';
import { asTyped, numberFrom } from '../options.ts';
import { type Aimed, type AimsTold, aimsJson, aimsReport } from '../words/aim-report.ts';
import { checkFolder, type Wanted, writeDrawing, writeInto } from '../write-files.ts';

interface Options extends FiringOptions, Pick<Wanted, 'svg' | 'png' | 'gltf' | 'out'> {
  readonly tolerance?: string;
  readonly limit?: string;
  readonly best?: true;
  readonly wall?: true;
  readonly free?: true;
  readonly green?: string;
  readonly json?: true;
}

/** Looks before the long work whether the form to make may be written there. */
const checkGreen = async ({ green, free, setting = [], best }: Options): Promise<void> => {
  if (green === undefined) return;
  if (!green.endsWith('.form.json')) throw badInput('--green', green, 'a name ending in .form.json');
  if (free) throw badInput('--green', green, 'no --free beside it: only what hands can make is a form');
  if (!best && (setting.length > 1 || setting.includes('all')))
    throw badInput('--setting', setting, 'one setting, or --best beside several: --green writes one form');
  const taken = await access(green).then(
    () => true,
    () => false,
  );
  if (taken)
    throw badInput('--green', green, 'a name not yet taken: a form that is there is never written over');
};

const lengthFrom = (flag: string, text: string | undefined): number | undefined =>
  text === undefined ? undefined : numberFrom(flag, text, 0.01, 100) / 1000;

const limitOf = (options: Options): { readonly limit_m?: number } => {
  const limit_m = lengthFrom('--limit', options.limit);
  return limit_m === undefined ? {} : { limit_m };
};

const inputOf = (plan: Planned, options: Options): AimInput => {
  const tolerance_m = lengthFrom('--tolerance', options.tolerance);
  return { ...plan.input, ...(tolerance_m !== undefined && { tolerance_m }) };
};

/** Aims for one setting: the free shape, then what hands can make of it. */
const aimOnce = async (
  plan: Planned,
  options: Options,
  engine: MakeEngine | undefined,
  io: Io,
): Promise<Aimed> => {
  const { called, file } = plan;
  const found = await drive(`back from ${called}`, aim(inputOf(plan, options), engine), io);
  const hands =
    options.free || !Number.isFinite(found.max_m)
      ? undefined
      : await drive(`by hand, ${called}`, makeable({ aim: found, ...limitOf(options) }, engine), io);
  return { called, file, aim: found, hands };
};

/** The best of the settings asked for, or of all usual ones where none was. */
const bestOf = async (
  planned: readonly Planned[],
  options: Options,
  engine: MakeEngine | undefined,
  io: Io,
): Promise<{ best: BestSetting; plans: Planned[] }> => {
  const settings = options.setting === undefined ? undefined : planned.map(({ input }) => input.setting);
  const [first] = planned;
  const input = { ...inputOf(first, options), ...(settings && { settings }) };
  const best = await drive('trying settings', bestSetting(input, engine), io);
  if (!best.best) return { best, plans: [] };
  const { setting, name } = best.best;
  const file = asTyped(setting.attitude) + (setting.turn_deg ? `-${setting.turn_deg}` : '');
  return { best, plans: [{ called: name, file, input: { ...first.input, setting } }] };
};

const writeGreen = async (path: string, hands: Makeable | undefined, io: Io): Promise<void> => {
  if (!hands)
    throw new AfterfireError(
      'cannot-do',
      `${path}: not written, since no form was found that comes out as this.`,
    );
  const form = { ...hands.form, name: `${hands.form.name.slice(0, 60)}, to make` };
  await writeNew(path, `${JSON.stringify(form, null, 2)}\n`);
  io.err(`wrote ${path}\n`);
};

const write = async (name: string, told: AimsTold, options: Options, io: Io): Promise<void> => {
  const written = await writeDrawing(`${name}-to-make`, aimSheet(told), options);
  for (const one of options.gltf ? told.aimed : [])
    written.push(await writeInto(options.out, `${name}-to-make-${one.file}.glb`, await glbOfAim(one)));
  for (const path of written) io.err(`wrote ${path}\n`);
};

const aimAll = async (formFile: string, options: Options, io: Io): Promise<void> => {
  await checkFolder(options);
  await checkGreen(options);
  limitOf(options); // a number that is none is told now, not after the long work
  const planned = await plannedFirings(formFile, options);
  const engine = engineHere();
  const found = options.best ? await bestOf(planned, options, engine, io) : undefined;
  const aimed: Aimed[] = [];
  for (const plan of found?.plans ?? planned) aimed.push(await aimOnce(plan, options, engine, io));
  const wallPlan = (found?.plans ?? planned)[0] as Planned | undefined;
  const wall =
    options.wall && wallPlan
      ? await drive(
          'trying walls',
          wallFor({ ...inputOf(wallPlan, options), ...limitOf(options) }, engine),
          io,
        )
      : undefined;
  const told: AimsTold = { form: planned[0].input.form, best: found?.best, aimed, wall };
  io.out(
    options.json ? `${JSON.stringify(aimsJson(told), null, 2)}\n` : aimsReport(told, basename(formFile)),
  );
  if (aimed.length > 0) await write(nameOf(formFile), told, options, io);
  if (options.green !== undefined) await writeGreen(options.green, aimed[0]?.hands, io);
};

export const aimCommand = (io: Io): Command =>
  addFiringOptions(
    new Command('aim')
      .description('what to make so that the fire turns it into this: the green form of a wanted fired one')
      .argument('<form.json>', 'the form as it is wanted after the fire; nothing of it is sag'),
  )
    .option('--tolerance <mm>', 'how near the free shape has to come (default: 0.1, on its side 0.3)')
    .option('--limit <mm>', 'how near what hands make has to come (default: 1, or a hundredth of the piece)')
    .option('--best', 'try all settings asked for (all usual ones if none is) and take the best')
    .option('--wall', 'also look for the wall with which it would come out')
    .option('--free', 'only the free shape: do not fit it to what hands can make')
    .option('--green <out.form.json>', 'write the form to make, as a new file; none is written over')
    .option('--json', 'the answer as JSON in SI units')
    .option('--svg', 'draw what to make, what is wanted and what comes out, at true size')
    .option('--png', 'the same drawing as a picture')
    .option('--gltf', 'the three of them in three dimensions (binary glTF, metres)')
    .option('--out <folder>', 'where drawings and exports go', '.')
    .action((formFile: string, options: Options) => aimAll(formFile, options, io));
