import { basename } from 'node:path';
import { type Command, Option } from 'commander';
import { badInput } from '../error.ts';
import type { Clay } from '../making/clay/clay.ts';
import type { FiringInput } from '../making/firing/firing.ts';
import { Setting } from '../making/firing/setting.ts';
import { beliefNow } from '../making/learning/learn.ts';
import { kilnKnown, learnedClay } from '../making/learning/learned-clay.ts';
import { readLearningLog } from '../store/learning-file.ts';
import { readClay, readForm, readSchedule, readSetting, usualFiles } from '../store/studio-folder.ts';
import { demoFolder } from './home.ts';
import { ATTITUDES, asTyped, attitudesFrom, numberFrom, TRIANGLES } from './options.ts';

/** What every command that fires may be told. */
export interface FiringOptions {
  readonly clay?: string;
  readonly schedule?: string;
  readonly setting?: readonly string[];
  readonly turn?: string;
  readonly shelf?: Setting['shelf'];
  readonly friction?: string;
  readonly hotSide?: string;
  readonly hotTowards?: string;
  readonly triangles: string;
  readonly quick?: true;
  readonly learned?: string;
  readonly kiln?: string;
}

/** One firing to run: what it is called in a picture, and in the name of a file. */
export interface Planned {
  readonly input: FiringInput;
  readonly called: string;
  readonly file: string;
}

const SETTING_FILE = /\.setting\.json$/;
/** The shelf a piece stands on unless something else is said: the schema's own default. */
const USUAL = Setting.parse({ attitude: 'upright' });

export const addFiringOptions = (command: Command): Command =>
  command
    .option('--clay <file>', "the clay (default: the demo studio's)")
    .option('--schedule <file>', "the schedule (default: the demo studio's)")
    .option(
      '--setting <how>',
      `how it stands: ${Object.keys(ATTITUDES).join(', ')}, all of these, or a .setting.json file with props; ` +
        'may be given several times (default: upright)',
      (how: string, before: readonly string[] = []) => [...before, how],
    )
    .option(
      '--turn <degrees>',
      `on its side: turned about its own axis by this first (default: ${USUAL.turn_deg}, or as the file says)`,
    )
    .addOption(
      new Option(
        '--shelf <kind>',
        `whether the ware slides on the shelf as it shrinks, or grips it (default: ${USUAL.shelf}, or as the file says)`,
      ).choices(['slides', 'grips']),
    )
    .option('--friction <slope>', 'the slope, rise over run, on which the piece would just slide')
    .option(
      '--hot-side <degrees>',
      'hottest less coldest across the piece, °C, where one side of the kiln is hotter',
    )
    .option('--hot-towards <degrees>', 'on which side it is hotter, from x as the piece stands (default: 0)')
    .option('--learned <file>', 'with what was learned of the clay: a .learning.json log (afterfire learn)')
    .option('--kiln <words>', 'in this kiln, of those the log knows')
    .option('--triangles <number>', 'how fine: about this many triangles', String(TRIANGLES.usual))
    .option('--quick', 'a handful of steps instead of an error bound: a first look');

/** What flags say on top of a setting. */
const overriddenBy = (options: FiringOptions): Partial<Setting> => {
  const { turn, shelf, friction, hotSide, hotTowards } = options;
  const towards_deg = numberFrom('--hot-towards', hotTowards ?? '0', -360, 360);
  return {
    ...(turn === undefined ? {} : { turn_deg: numberFrom('--turn', turn, -360, 360) }),
    ...(shelf === undefined ? {} : { shelf }),
    ...(friction === undefined ? {} : { friction: numberFrom('--friction', friction, 0, 1.5) }),
    ...(hotSide === undefined
      ? {}
      : { hotSide: { difference_C: numberFrom('--hot-side', hotSide, 0, 150), towards_deg } }),
  };
};

interface How {
  readonly called: string;
  readonly file: string;
  readonly setting: Setting;
}

const settingsFrom = async (given: readonly string[]): Promise<How[]> => {
  const found: How[] = [];
  for (const how of given) {
    if (SETTING_FILE.test(how)) {
      const { name, setting } = await readSetting(how);
      found.push({ called: name, file: basename(how).replace(SETTING_FILE, ''), setting });
      continue;
    }
    for (const attitude of attitudesFrom('--setting', how))
      found.push({ called: attitude, file: asTyped(attitude), setting: Setting.parse({ attitude }) });
  }
  return found;
};

/** Two settings of one name write two files. */
const apart = (all: readonly How[]): How[] =>
  all.map((one, i) => {
    const before = all.slice(0, i).filter(({ file }) => file === one.file).length;
    return before === 0 ? one : { ...one, file: `${one.file}-${before + 1}` };
  });

/** A form's file name without its endings: what its drawings are called. */
export const nameOf = (formFile: string): string => basename(formFile).replace(/(\.form)?\.json$/, '');

/** The clay and the kiln as learned. Throws `bad-input` for a log of another clay, or a kiln it does not know. */
const withLearned = async (
  clay: Clay,
  { learned, kiln }: FiringOptions,
): Promise<Pick<FiringInput, 'clay' | 'known'>> => {
  if (learned === undefined) {
    if (kiln !== undefined) throw badInput('--kiln', kiln, 'a learning log beside it: --learned <file>');
    return { clay };
  }
  const log = await readLearningLog(learned);
  if (log.clay !== clay.name) throw badInput('--learned', log.clay, `a log of this clay, ${clay.name}`);
  const belief = beliefNow(log);
  const kilns = belief.kilns.map(({ name }) => name);
  if (kiln !== undefined && !kilns.includes(kiln))
    throw badInput('--kiln', kiln, `a kiln the log knows: ${kilns.join(', ') || 'it knows none yet'}`);
  return {
    clay: learnedClay(clay, log, belief),
    ...(kiln !== undefined && { known: kilnKnown(belief, kiln) }),
  };
};

/** Reads all that the command line names. Throws as the readers do. */
export const plannedFirings = async (formFile: string, options: FiringOptions): Promise<Planned[]> => {
  const usual = await usualFiles(demoFolder());
  const flags = overriddenBy(options);
  const triangles = numberFrom('--triangles', options.triangles, TRIANGLES.least, TRIANGLES.most, true);
  const settings = apart(await settingsFrom(options.setting ?? ['upright']));
  const made = await withLearned(await readClay(options.clay ?? usual.clay), options);
  const schedule = await readSchedule(options.schedule ?? usual.schedule);
  const form = await readForm(formFile);
  return settings.map(({ called, file, setting }) => ({
    called,
    file,
    input: {
      form,
      ...made,
      schedule,
      setting: { ...setting, ...flags },
      triangles,
      care: options.quick ? 'quick' : 'full',
    },
  }));
};
