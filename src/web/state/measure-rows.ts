import type { Setting } from '../../making/firing/setting.ts';
import type { Measured } from '../../making/learning/unloading.ts';
import { outlineMeasures } from '../../making/photo/outline-measures.ts';

/** What is asked of a fired piece: each a number for the pad, and a place in the unloading's file. */
export interface MeasureRow {
  /** As the learning names it. */
  readonly key: string;
  readonly name: string;
  /** How to take it, in a line. */
  readonly how: string;
  /** A drop may be a rise. */
  readonly signed: boolean;
}

const DROP = 'as it stood in the kiln, beyond shrinkage';

const FIRST: readonly MeasureRow[] = [
  { key: 'height', name: 'Height', how: 'upright on a flat shelf, shelf to highest point', signed: false },
  { key: 'lip greatest', name: 'Lip, widest', how: 'outside, level callipers', signed: false },
  { key: 'lip least', name: 'Lip, narrowest', how: 'outside, level callipers', signed: false },
  { key: 'drop greatest', name: 'Lip came down', how: `at its most, ${DROP}`, signed: true },
];

const QUARTERS = [0, 90, 180, 270] as const;

const MORE: readonly MeasureRow[] = [
  { key: 'widest', name: 'Widest', how: 'outside, upright, at its widest', signed: false },
  { key: 'drop mean', name: 'Lip came down, mean', how: `all round, ${DROP}`, signed: true },
  ...QUARTERS.map((angle) => ({
    key: `drop at ${angle}`,
    name: `Lip came down at ${angle}°`,
    how: `at that mark about the axis as drawn, ${DROP}`,
    signed: true,
  })),
];

/** Of a piece standing on its rim the lip does not come down. */
const makesSense =
  ({ attitude }: Pick<Setting, 'attitude'>) =>
  ({ key }: MeasureRow): boolean =>
    attitude !== 'rim down' || !key.startsWith('drop');

export const firstRows = (setting: Setting): MeasureRow[] => FIRST.filter(makesSense(setting));
export const moreRows = (setting: Setting): MeasureRow[] => MORE.filter(makesSense(setting));

/** Everything a film is asked for, so that any of it can be foretold. */
export const MEASURE_KEYS: readonly string[] = [...FIRST, ...MORE].map(({ key }) => key).concat('lip mean');

/** Measures by key, mm. */
export type Values = Readonly<Record<string, number>>;

const some = <T extends object>(part: T): T | undefined =>
  Object.values(part).some((v) => v !== undefined) ? part : undefined;

const without = <T extends object>(record: T): T =>
  Object.fromEntries(Object.entries(record).filter(([, v]) => v !== undefined)) as T;

/** The measures as the file has them; nothing where nothing was measured. */
export const measuredOf = (
  values: Values,
  plusMinus_mm: number,
  outline: Measured['outline'],
): Measured | undefined => {
  const points = QUARTERS.flatMap((angle_deg) => {
    const drop_mm = values[`drop at ${angle_deg}`];
    return drop_mm === undefined ? [] : [{ angle_deg, drop_mm }];
  });
  const found = some({
    height_mm: values.height,
    widest_mm: values.widest,
    lipWidth: some(without({ greatest_mm: values['lip greatest'], least_mm: values['lip least'] })),
    lipDrop: some(
      without({
        greatest_mm: values['drop greatest'],
        mean_mm: values['drop mean'],
        points: points.length > 0 ? points : undefined,
      }),
    ),
    outline,
  });
  return found && without({ plusMinus_mm, ...found });
};

export const valuesOf = (measured: Measured | undefined): Values => {
  if (!measured) return {};
  const { height_mm, widest_mm, lipWidth, lipDrop } = measured;
  return without({
    height: height_mm,
    widest: widest_mm,
    'lip greatest': lipWidth?.greatest_mm,
    'lip least': lipWidth?.least_mm,
    'drop greatest': lipDrop?.greatest_mm,
    'drop mean': lipDrop?.mean_mm,
    ...Object.fromEntries((lipDrop?.points ?? []).map((p) => [`drop at ${p.angle_deg}`, p.drop_mm])),
  }) as Values;
};

/** What a photograph says of an upright piece in the words of a rule: shown beside the fields, learned from once, as the outline. */
export const photographedValues = (
  outline: Measured['outline'],
  { attitude }: Pick<Setting, 'attitude'>,
): Values => {
  if (!outline || attitude !== 'upright') return {};
  const ring = Float64Array.from(outline.points_mm.flat());
  // The ring is in mm here, and so are its measures.
  const { height_m: height, widest_m: widest } = outlineMeasures(ring);
  return { height, widest };
};
