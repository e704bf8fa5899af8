import { AfterfireError } from '../../../error.ts';
import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import type { Form } from '../../form/form.ts';
import type { Setting } from '../setting.ts';
import { likely } from './likely.ts';
import type {
  BestSetting,
  BestSettingInput,
  BestSettingRun,
  MakeableProgress,
  SettingTried,
} from './makeable-contract.ts';
import { settingName, usualSettings } from './set-name.ts';
import { mm } from './told.ts';

/** Coarse: settings differ by far more than meshes do. */
const MOST_TRIANGLES = 1000;
/** Nearer to each other than this, two settings are told as alike, m. */
const ALIKE_m = 2e-4;

/** Its own axis this near upright (cosine), a piece laid down has tipped. */
const TIPPED = 0.7;

const isRound = (form: Form): boolean => form.alterations.length === 0 && form.carving.length === 0;

const nothing = (setting: Setting, text: string): SettingTried => ({
  setting,
  name: settingName(setting),
  max_m: Number.NaN,
  rms_m: Number.NaN,
  soft_m: Number.NaN,
  stiff_m: Number.NaN,
  likely_m: Number.POSITIVE_INFINITY,
  text,
});

const millimetres = (l_m: number): string => mm(1000 * l_m);

const tell = (name: string, max_m: number, soft_m: number, stiff_m: number, factor: number): string => {
  if (!Number.isFinite(soft_m))
    return `${name}: within ${millimetres(max_m)} if the clay is as taken, but a clay ${factor} times softer does not come through.`;
  const worst = Math.max(soft_m, stiff_m);
  const which = soft_m >= stiff_m ? 'softer' : 'stiffer';
  return worst > max_m + ALIKE_m
    ? `${name}: within ${millimetres(max_m)} if the clay is as taken, ${millimetres(worst)} off if it is ${factor} times ${which}.`
    : `${name}: within ${millimetres(max_m)}, and hardly different in a softer or stiffer clay.`;
};

const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function* tryOne(
  input: BestSettingInput,
  setting: Setting,
  engine: MakeEngine | undefined,
): Generator<MakeableProgress, SettingTried, void> {
  const name = settingName(setting);
  try {
    const found = yield* likely({ ...input, setting }, engine);
    if ('gone' in found) return nothing(setting, `${upperFirst(name)}: ${found.gone}`);
    const { makeable, soft_m, stiff_m, likely_m } = found;
    const { max_m, rms_m } = makeable;
    if (setting.attitude === 'on its side' && Math.abs(makeable.aim.place.turn[8]) > TIPPED)
      return nothing(
        setting,
        `${upperFirst(name)}: laid down it tips until it stands, so that is no setting of its own.`,
      );
    if (!Number.isFinite(max_m))
      return { ...nothing(setting, `${upperFirst(name)}: ${makeable.remains[0].text}`), makeable };
    const factor = Number(input.clay.sagViscosity.factor80.toFixed(2));
    const text = upperFirst(tell(name, max_m, soft_m, stiff_m, factor));
    return { setting, name, makeable, max_m, rms_m, soft_m, stiff_m, likely_m, text };
  } catch (e) {
    if (!(e instanceof AfterfireError) || e.code !== 'bad-input') throw e;
    // It cannot be set so: that is an answer, unless the fault is of form, clay or heat.
    if (!e.faults.every((f) => f.field.startsWith('setting'))) throw e;
    return nothing(setting, `${upperFirst(name)}: it cannot be set so. ${e.message}`);
  }
}

const ranking = (a: SettingTried, b: SettingTried): number =>
  a.likely_m === b.likely_m ? (a.max_m || 0) - (b.max_m || 0) : a.likely_m - b.likely_m;

const conclusion = (ranked: readonly SettingTried[]): string => {
  const [first, second] = ranked;
  if (!first || !Number.isFinite(first.likely_m)) {
    const some = ranked.find((t) => Number.isFinite(t.max_m));
    return some
      ? `None of these settings is sure: ${some.name} comes nearest, but not with every clay this one may be.`
      : 'In none of these settings does it come through.';
  }
  const near = `Best set ${first.name}: within ${millimetres(first.likely_m)} for four clays in five.`;
  if (!second || !Number.isFinite(second.likely_m)) return near;
  return second.likely_m - first.likely_m < ALIKE_m
    ? `${near} No worse to speak of: ${second.name}.`
    : `${near} Next ${second.name}, ${millimetres(second.likely_m)}.`;
};

/**
 * Tries the allowed settings on a coarse mesh and ranks them by what is likely to remain: by how near what hands can make comes
 * to the wanted piece, and how much that depends on how soft the clay turns out.
 * @throws AfterfireError `bad-input` for faults of form, clay or heat; a setting it cannot stand in is told in its row
 */
export function* bestSetting(input: BestSettingInput, engine?: MakeEngine): BestSettingRun {
  const triangles = Math.min(MOST_TRIANGLES, input.triangles);
  const settings = input.settings ?? usualSettings(input.setting, isRound(input.form));
  const tried: SettingTried[] = [];
  for (const [k, setting] of settings.entries()) {
    const run = tryOne({ ...input, triangles, care: 'quick' }, setting, engine);
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) {
        tried.push(r.value);
        break;
      }
      const fraction = (k + r.value.fraction) / settings.length;
      yield { fraction, note: `${settingName(setting)}: ${r.value.note}` };
    }
  }
  const ranked = tried.sort(ranking);
  const best: SettingTried | undefined = ranked.find((t) => Number.isFinite(t.max_m));
  const answer: BestSetting = { ranked, triangles, text: conclusion(ranked) };
  return best ? { ...answer, best } : answer;
}
