import { mmFromMetres } from '../../../units.ts';
import type { Warning } from '../firing.ts';
import { warningsOf } from '../outcome.ts';
import type { Placed } from '../placed.ts';
import { setDown } from '../set-down.ts';
import type { Aim, AimInput, AimVerdict } from './aim-contract.ts';
import type { LessHeat } from './less-heat.ts';
import type { Found } from './passes.ts';

/** What the way back has to say. */

const mm = (m: number): string => {
  const v = mmFromMetres(m);
  return v < 0.01 ? 'less than 0.01 mm' : `${v < 1 ? v.toFixed(2) : v.toFixed(1)} mm`;
};
const times = (passes: number): string => (passes === 1 ? 'after one firing' : `after ${passes} firings`);

/** What was found of less heat: how much would do, that none would, or that it was not looked for. */
export type Less = LessHeat | undefined | 'not asked';

const nearestThing = (less: Less): string => {
  if (less === 'not asked') return '';
  return less
    ? ` Nearest that works: ${Math.round(100 * less.share)} % of this heat-work (about ${Math.round(less.cooler_K)} °C lower at the top); ` +
        'or a thicker wall, or another attitude.'
    : ' Not even a twentieth of this heat-work would do: give it a thicker wall, another attitude or something under it.';
};

export const fallsText = (found: Found, less: Less): AimVerdict => {
  const how =
    found.stopped?.on === 'through'
      ? 'What the way back leads to falls or loses its shape in the fire'
      : 'Traced back, the wall is drawn out without end before the beginning of the fire is reached';
  return {
    kind: 'falls',
    text: `No green piece comes out as this: as set it would have to fall into it. ${how}.${nearestThing(less)}`,
  };
};

type Told = Pick<Aim, 'max_m' | 'flattened_m' | 'tolerance_m'> & {
  readonly passes: number;
  readonly onSpots: boolean;
  readonly less: Less;
};

export const reachedText = (t: Told): AimVerdict => {
  const { max_m, flattened_m, tolerance_m: tolerance } = t;
  const near = `the fired piece is the wanted one to ${mm(max_m)} ${times(t.passes)}`;
  if (max_m > tolerance)
    return {
      kind: 'not-reached',
      text: `Not reached to ${mm(tolerance)}: the nearest found differs by up to ${mm(max_m)} ${times(t.passes)}.${nearestThing(t.less)}`,
    };
  if (t.onSpots && flattened_m > tolerance)
    return {
      kind: 'reached-but-where-it-lies',
      text: `Reached but for where it lies: ${near}; flattened where it lies: ${mm(flattened_m)}, whatever is made.`,
    };
  return { kind: 'reached', text: `Reached: ${near}.` };
};

/** A green piece that turns by more than this on being set down, rad, does not lie still. */
const LIES_STILL_rad = 0.01;

/** Whether the green piece would stay as it is set. */
export const stillnessOf = (green: Aim['green'], input: AimInput): Warning[] => {
  // It is in place already: set down "upright" turns it only by what it turns itself.
  const down = setDown(green, { ...input.setting, attitude: 'upright' });
  const degrees = Math.round((180 * down.turned_rad) / Math.PI);
  if (down.steady && down.turned_rad < LIES_STILL_rad) return [];
  if (input.setting.attitude !== 'on its side')
    return [
      {
        kind: 'green-tips',
        text: `The green piece does not stand by itself as set: it tips by ${degrees}°. Set it on something that holds it.`,
      },
    ];
  return [
    {
      kind: 'green-rolls',
      text: `The green piece does not lie still by itself: it rolls by ${Math.max(1, degrees)}°. Wedge it on both sides.`,
    },
  ];
};

const WEDGED: Warning = {
  kind: 'wedged',
  text: 'Taken as kept from rolling while it is soft, as by a wad on either side.',
};

/** What a potter should know before making it. */
export const aimWarnings = (
  placed: Placed,
  heat: Parameters<typeof warningsOf>[1],
  input: AimInput,
  green: Aim['green'] | undefined,
): Warning[] => [
  ...warningsOf(placed, heat),
  ...(input.setting.attitude === 'on its side' ? [WEDGED] : []),
  ...(green ? stillnessOf(green, input) : []),
];
