import { type Fault, shownValue } from '../../error.ts';
import { mmFromMetres } from '../../units.ts';
import { PIERCED_m, type SetOnProps } from './set-on-props.ts';
import type { Setting } from './setting.ts';

/** Why a piece does not stand on its props as asked, and what would help; in words, by the field. */

const mm = (l_m: number): string => {
  const text = mmFromMetres(l_m).toFixed(Math.abs(l_m) < 0.00995 ? 1 : 0);
  return text.replace(/^-(0(\.0)?)$/, '$1');
};

/** Which props of a setting the faults are about: drawn in red. */
export const propTrouble = (faults: readonly Pick<Fault, 'field'>[]): number[] => {
  const found = faults.flatMap(({ field }) => /^setting\.props\[(\d+)\]/.exec(field)?.[1] ?? []);
  return [...new Set(found.map(Number))];
};

/** A direction on the shelf in the words of the attitude. */
const sideOf = (attitude: Setting['attitude'], angle_rad: number): string => {
  const [c, s] = [Math.cos(angle_rad), Math.sin(angle_rad)];
  if (attitude === 'on its side') {
    if (Math.abs(c) > Math.abs(s)) return c > 0 ? 'lip end down' : 'foot end down';
    return s > 0 ? 'over to its left (seen along x)' : 'over to its right (seen along x)';
  }
  const deg = Math.round((angle_rad * 180) / Math.PI + 360) % 360;
  return `over towards ${deg}° from x`;
};

const whatHappens = (on: SetOnProps, setting: Setting): string | undefined => {
  const to = sideOf(setting.attitude, on.wentTo_rad);
  if (on.enoughFriction !== undefined) return 'it slides away and falls';
  switch (on.settled.kind) {
    case 'tips':
      return `it tips ${to}`;
    case 'falls':
    case 'slides off':
      return 'it slides off what it was set on';
    case 'does not come to rest':
      return 'it does not come to rest';
    case 'rests':
      return on.tipsTo_rad === undefined
        ? undefined
        : `a nudge tips it ${sideOf(setting.attitude, on.tipsTo_rad)}`;
  }
};

const pierced = (on: SetOnProps, setting: Setting): Fault[] =>
  setting.props.flatMap((prop, i) =>
    on.depths_m[i] <= PIERCED_m
      ? []
      : [
          {
            field: `setting.props[${i}]`,
            value: `a ${prop.kind} that stands ${mm(on.depths_m[i])} mm deep in the piece`,
            expected: `one at least ${mm(on.depths_m[i])} mm further away or lower, so that the piece can stand clear of it`,
          },
        ],
  );

const upright = (on: SetOnProps, setting: Setting): Fault[] => {
  const asked = (setting.lean_deg * Math.PI) / 180;
  const leansNow = Math.acos(Math.min(1, Math.abs(on.body.turn[8])));
  if (setting.attitude !== 'leaning' || leansNow > asked / 2) return [];
  const least = (on.rightsItself_rad * 180) / Math.PI;
  return [
    {
      field: 'setting.lean_deg',
      value: `${setting.lean_deg}; it rocks back on to its foot`,
      expected: `more than about ${Math.ceil(least)}°, where its weight passes over the edge of its foot, or the attitude upright`,
    },
  ];
};

const WHAT_HELPS: Readonly<Record<Setting['attitude'], string>> = {
  'on its side': 'props under both ends, to either side of that point',
  upright: 'props, or the shelf, on all sides of that point',
  'rim down': 'props, or the shelf, on all sides of that point',
  leaning: 'something to lean on higher than its weight, and a foot that does not slide',
};

/** All that is wrong with how it stands; empty where it stands. */
export const standingTrouble = (on: SetOnProps, setting: Setting): Fault[] => {
  const inIt = pierced(on, setting);
  if (inIt.length > 0) return inIt;
  const happens = whatHappens(on, setting);
  if (happens === undefined) return upright(on, setting);
  const [x, y] = on.weightAt_m;
  const enough = on.enoughFriction;
  const held =
    enough === undefined ? '' : `, or a friction of at least ${enough.toFixed(2)} so that it does not slide`;
  return [
    {
      field: setting.props.length > 0 ? 'setting.props' : 'setting.attitude',
      value: `${shownValue(setting.props.map((p) => p.kind).join(', '))}: ${happens}; its weight stands over x ${mm(x)} mm, y ${mm(y)} mm`,
      expected: `${WHAT_HELPS[setting.attitude]}${held}`,
    },
  ];
};

/** Leaning on nothing. */
export const NOTHING_TO_LEAN_ON: Fault = {
  field: 'setting.props',
  value: '[]',
  expected:
    'something to lean on: a wall, or a post taller than where the weight of the piece is; by itself it falls',
};
