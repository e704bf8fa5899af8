import type { Aim } from '../../making/firing/aim/aim-contract.ts';
import type {
  BestSetting,
  Change,
  Makeable,
  WallFor,
} from '../../making/firing/makeable/makeable-contract.ts';
import type { Form } from '../../making/form/form.ts';
import { table } from '../table.ts';
import { list } from './firing-report.ts';
import { SAFETY_IN_BRIEF } from './safety.ts';
import { settingTold } from './setting.ts';

/** An aim in one setting, and what hands can make of it where that was asked and found. */
export interface Aimed {
  readonly called: string;
  readonly file: string;
  readonly aim: Aim;
  readonly hands: Makeable | undefined;
}

export interface AimsTold {
  readonly form: Form;
  readonly best: BestSetting | undefined;
  readonly aimed: readonly Aimed[];
  readonly wall: WallFor | undefined;
}

const mm = (x_m: number): string => (Number.isFinite(x_m) ? `${(1000 * x_m).toFixed(2)} mm` : '–');

const passesTable = ({ passes }: Aim): string =>
  passes.length === 0
    ? ''
    : `\n${table(
        ['firing', 'greatest difference', 'root mean square'],
        passes.map((p, i) => [String(i + 1), mm(p.max_m), mm(p.rms_m)]),
      )}`;

/** Only what differs: the whole form is in the file. */
const changesTable = (all: readonly Change[]): string => {
  const changes = all.filter(({ wanted, make }) => wanted === undefined || Math.abs(make - wanted) > 1e-6);
  return changes.length === 0
    ? '\nMake it as it is drawn, at the size of the wet piece.\n'
    : `\nWhat to make otherwise than drawn (sizes of the wet piece)\n${table(
        ['', 'as wanted', 'to make'],
        changes.map(({ field, unit, wanted, make }) => [
          unit === '' ? field : `${field}, ${unit}`,
          wanted === undefined ? '' : String(Number(wanted.toFixed(2))),
          String(Number(make.toFixed(2))),
        ]),
      )}`;
};

/** What hands can make, in sentences. */
export const handsTold = (hands: Makeable): string[] => [
  hands.within
    ? `Made by hand it comes out within ${mm(hands.max_m)} of the wanted piece; ${mm(hands.limit_m)} is allowed.`
    : `Made by hand it comes out ${mm(hands.max_m)} off the wanted piece; ${mm(hands.limit_m)} is allowed.`,
  ...hands.remains.map(({ text }) => text),
];

const limitsTold = ({ limits }: Makeable): string[] =>
  limits.map(
    ({ field, unit, value, side }) =>
      `${field}: ${side === 'least' ? 'no less' : 'no more'} than ${value} ${unit}.`,
  );

const oneTold = ({ called, aim, hands }: Aimed): string => {
  const { clay, schedule, setting } = aim.input;
  const head = `${aim.input.form.name}, ${called}: what to make`;
  return [
    `${head}\n${'='.repeat(head.length)}\n${aim.verdict.text}\n`,
    `\nSetting: ${settingTold(setting)}\nClay: ${clay.name}\nSchedule: ${schedule.name}\n`,
    passesTable(aim),
    ...(hands
      ? [
          changesTable(hands.changes),
          list('Also', hands.added),
          list('By hand', handsTold(hands)),
          list('At its limit', limitsTold(hands)),
        ]
      : []),
    list(
      'Look out',
      aim.warnings.map(({ text }) => text),
    ),
    list('How sure', aim.provenance),
  ].join('');
};

const bestTold = (best: BestSetting): string =>
  `${best.text}\n\n${table(
    ['setting', 'off by', 'soft clay', 'stiff clay', ''],
    best.ranked.map((t) => [t.name, mm(t.max_m), mm(t.soft_m), mm(t.stiff_m), t.makeable ? '' : 'not so']),
  )}${list(
    'Each',
    best.ranked.map(({ text }) => text),
  )}\n`;

const wallTold = ({ text, tried, asWanted }: WallFor): string =>
  `\n\n${text}\n\n${table(
    ['wall', 'thinnest, mm', 'off by', 'weight, g'],
    [asWanted, ...tried.filter((t) => t.factor !== asWanted.factor)].map((t) => [
      `${Math.round(100 * t.factor)} %`,
      t.thinnest_mm.toFixed(1),
      mm(t.likely_m),
      Number.isFinite(t.weight_kg) ? (1000 * t.weight_kg).toFixed(0) : '–',
    ]),
  )}`;

/** What to make, to be read in a terminal. */
export const aimsReport = ({ best, aimed, wall, form }: AimsTold, file: string): string =>
  [
    best ? `${form.name} (${file}): the best way to stand it\n\n${bestTold(best)}\n` : '',
    aimed.map(oneTold).join('\n\n'),
    wall ? wallTold(wall) : '',
    `\n${SAFETY_IN_BRIEF}\n`,
  ].join('');

const handsJson = (h: Makeable): object => ({
  form: h.form,
  changes: h.changes,
  added: h.added,
  remains: h.remains,
  limits: h.limits,
  rounds: h.rounds,
  fit: h.fit,
  max_m: h.max_m,
  rms_m: h.rms_m,
  limit_m: h.limit_m,
  within: h.within,
  lean_m: h.lean_m,
  bend_m: h.bend_m,
  rolls_rad: h.rolls_rad,
});

const aimJson = ({ called, aim, hands }: Aimed): object => ({
  called,
  clay: aim.input.clay.name,
  schedule: aim.input.schedule.name,
  setting: aim.input.setting,
  triangles: aim.mesh.triangles.length / 3,
  verdict: aim.verdict,
  reached: aim.reached,
  tolerance_m: aim.tolerance_m,
  max_m: aim.max_m,
  rms_m: aim.rms_m,
  flattened_m: aim.flattened_m,
  passes: aim.passes,
  thrownScale: aim.thrownScale,
  firedScale: aim.firedScale,
  warnings: aim.warnings,
  provenance: aim.provenance,
  byHand: hands && handsJson(hands),
});

/** The same for programs: SI units; the shapes themselves leave as glTF. */
export const aimsJson = ({ form, best, aimed, wall }: AimsTold): object => ({
  form: form.name,
  best: best && {
    text: best.text,
    triangles: best.triangles,
    ranked: best.ranked.map(({ makeable, ...rest }) => ({ ...rest, comesThrough: makeable !== undefined })),
  },
  aims: aimed.map(aimJson),
  wall,
});
