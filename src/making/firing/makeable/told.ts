import type { Setting } from '../setting.ts';
import type { FiredDifference } from './compare-fired.ts';
import type { Change, Remains } from './makeable-contract.ts';
import type { OffAxis } from './off-axis.ts';
import type { Handmade, Limit } from './to-hands.ts';

/** What remains between the piece made by hand and the one wanted, in plain sentences. */

/** Less than this, at fired size, is not worth a sentence of its own, mm. */
const WORTH_mm = 0.3;
/** Rounding that adds less is not told, mm. */
const ROUNDING_mm = 0.05;

export const mm = (l_mm: number): string => {
  const v = Math.abs(l_mm);
  return `${v < 0.095 ? v.toFixed(2) : v < 9.95 ? v.toFixed(1) : v.toFixed(0)} mm`;
};

interface Looked {
  readonly difference: FiredDifference;
  readonly setting: Setting;
  /** Which way is down, as an angle of the drawing, rad. */
  readonly down_rad: number;
  /** From mm of the wet piece to mm as fired. */
  readonly toFired: number;
}

const wallStretch = ({ difference }: Looked): number =>
  difference.fit.places.stretch.reduce((a, b) => Math.max(a, b), 0);

const SECTORS = ['on the side it lay on', 'on its flanks', 'on its upper side'] as const;

/** Which side of a piece lying down an angle is on. */
const sectorOf = (angle_rad: number, down_rad: number): number => {
  const c = Math.cos(angle_rad - down_rad);
  return c > 0.7 ? 0 : c < -0.7 ? 2 : 1;
};

const lies = ({ setting }: Looked): boolean => setting.attitude === 'on its side';

/** Where a node is, in words. */
const placeOf = (looked: Looked, i: number): string => {
  const { places } = looked.difference.fit;
  const share = places.share[i];
  const up =
    places.stretch[i] < wallStretch(looked)
      ? 'in the floor'
      : share > 0.99
        ? 'at the lip'
        : share > 0.75
          ? 'under the lip'
          : share > 0.3
            ? 'half way up'
            : 'just above the foot';
  return lies(looked) ? `${up}, ${SECTORS[sectorOf(places.angle_rad[i], looked.down_rad)]}` : up;
};

const worstOf = ({ difference: { fit, counts } }: Looked): number => {
  let worst = 0;
  let most = -1;
  for (let i = 0; i < counts.length; i++) {
    const off = counts[i] * Math.hypot(...fit.way_mm.subarray(3 * i, 3 * i + 3));
    if (off > most) [most, worst] = [off, i];
  }
  return worst;
};

const everywhere = (looked: Looked, limit_m: number): Remains[] => {
  const { fit, counts } = looked.difference;
  const but = lies(looked) ? ' but for where it lies on the shelf' : '';
  const i = worstOf(looked);
  const most = counts[i] * Math.hypot(...fit.way_mm.subarray(3 * i, 3 * i + 3)) * looked.toFired;
  const all: Remains = { kind: 'all', text: `Within ${mm(most)} of the wanted piece everywhere${but}.` };
  if (most <= 1000 * limit_m) return [all];
  const side = fit.off_mm[i] < 0 ? 'inside' : 'outside';
  return [
    all,
    { kind: 'place', text: `It stays ${mm(most)} ${side} the wanted wall ${placeOf(looked, i)}.` },
  ];
};

/** Mean and worst of a value over the lip, and over which sector it is worst. */
const lipValue = (looked: Looked, value: (i: number, angle: number) => number) => {
  const { places } = looked.difference.fit;
  const wall = wallStretch(looked);
  const sums = [0, 1, 2].map(() => ({ n: 0, sum: 0 }));
  for (let i = 0; i < places.edge.length; i++) {
    if (places.edge[i] !== 1 || places.stretch[i] !== wall || places.share[i] < 0.99) continue;
    if (looked.difference.counts[i] === 0) continue;
    const sector = sums[sectorOf(places.angle_rad[i], looked.down_rad)];
    sector.n++;
    sector.sum += value(i, places.angle_rad[i]);
  }
  const n = sums.reduce((s, k) => s + k.n, 0) || 1;
  const mean = sums.reduce((s, k) => s + k.sum, 0) / n;
  const means = sums.map((k) => (k.n > 0 ? k.sum / k.n : 0));
  const worst = means.reduce((b, m, k) => (Math.abs(m) > Math.abs(means[b]) ? k : b), 0);
  return { mean, sector: worst, there: means[worst] };
};

const lipTold = (looked: Looked): Remains[] => {
  const way = looked.difference.fit.way_mm;
  const told = (value: (i: number, angle: number) => number, words: readonly [string, string]): Remains[] => {
    const { mean, sector, there } = lipValue(looked, value);
    const round = !lies(looked) || Math.abs(there) < 1.5 * Math.abs(mean);
    const by = (round ? mean : there) * looked.toFired;
    if (Math.abs(by) < WORTH_mm) return [];
    const where = round ? 'all round' : SECTORS[sector];
    return [{ kind: 'lip', text: `The lip stays ${mm(by)} ${words[by < 0 ? 0 : 1]} ${where}.` }];
  };
  return [
    ...told((i) => way[3 * i + 2], ['low', 'high']),
    ...told((i, a) => way[3 * i] * Math.cos(a) + way[3 * i + 1] * Math.sin(a), ['too far in', 'too far out']),
  ];
};

const axisTold = ({ lean_mm, bend_mm }: OffAxis): Remains[] => [
  ...(lean_mm > WORTH_mm
    ? [
        {
          kind: 'lean' as const,
          text: `The free shape leans by ${mm(lean_mm)} at the lip (size of the wet piece); a thrown piece stands square on its foot, so that is left out.`,
        },
      ]
    : []),
  ...(bend_mm > WORTH_mm
    ? [
        {
          kind: 'bend' as const,
          text: `The axis of the free shape bends by ${mm(bend_mm)} (size of the wet piece); a thrown piece is straight, so that is left out.`,
        },
      ]
    : []),
];

const NAMES: Readonly<Record<Limit['side'], readonly [string, string]>> = {
  least: ['less', 'least'],
  most: ['more', 'most'],
};

export const limitTold = ({ field, unit, value, side }: Limit): string =>
  `form.${field} would have to be ${NAMES[side][0]} than ${Number(value.toFixed(2))}${unit ? ` ${unit}` : ''}, the ${NAMES[side][1]} that can be made of it here; ${Number(value.toFixed(2))} is taken.`;

interface MadeFacts {
  readonly made: Handmade;
  readonly off: OffAxis;
  readonly limit_m: number;
  readonly rolls_rad: number;
}

/** It rolls by less than this without a word, rad. */
const ROLLS_rad = 0.05;

export const remainsOf = (
  looked: Looked,
  { made, off, limit_m, rolls_rad }: MadeFacts,
): readonly Remains[] => {
  const rounding = Math.sqrt(Math.max(0, made.fit.rms_mm ** 2 - made.free.rms_mm ** 2));
  return [
    ...everywhere(looked, limit_m),
    ...lipTold(looked),
    ...axisTold(off),
    ...(rounding > ROUNDING_mm
      ? [
          {
            kind: 'rounding' as const,
            text: `Steps the hands can keep (0.5 mm on the line, 0.1 mm in the wall) cost ${mm(rounding)} on the mean before the fire.`,
          },
        ]
      : []),
    ...(rolls_rad > ROLLS_rad
      ? [
          {
            kind: 'wads' as const,
            text: `Left to itself it would roll by ${Math.round((180 * rolls_rad) / Math.PI)}°: a wad of clay and alumina on either side holds it as it is set.`,
          },
        ]
      : []),
    ...made.limits.map((l): Remains => ({ kind: 'limit', text: limitTold(l) })),
    ...made.heldBack.map(
      (fault): Remains => ({
        kind: 'held-back',
        text: `All of it would not be a form: ${fault}. The nearest that is one is taken.`,
      }),
    ),
  ];
};

const at = (form: unknown, field: string): unknown =>
  field
    .replaceAll('[', '.')
    .replaceAll(']', '')
    .split('.')
    .reduce<unknown>((x, key) => (x as Record<string, unknown> | undefined)?.[key], form);

/** Numbers of the made form beside those of the wanted one, where the two have the same points. */
export const changesOf = (wanted: unknown, made: Handmade, hands = made.free.hands): Change[] =>
  hands.map(({ field, unit }) => {
    const was = made.pointsAdded > 0 && field.startsWith('line') ? undefined : at(wanted, field);
    const make = at(made.form, field) as number;
    return typeof was === 'number' ? { field, unit, wanted: was, make } : { field, unit, make };
  });

const HEIGHTS = ['at the foot', 'half way up', 'at the lip'] as const;

export const addedTold = (made: Handmade): string[] => {
  const first = made.form.alterations.length - made.added.length;
  const list = made.added.map((_, k): string => {
    const a = made.form.alterations[first + k];
    const where = (deg: number): string => `${Math.round(deg)}° from +x`;
    if (a?.kind === 'oval')
      return `Squeezed oval after throwing: ${a.longer_percent} % longer towards ${where(a.turn_deg)}.`;
    if (a?.kind === 'push')
      return `A soft ${a.depth_mm < 0 ? 'dent' : 'bump'} of ${mm(a.depth_mm)} at ${where(a.angle_deg)}, ${Math.round(100 * a.along)} % up the line, ${a.reach_mm} mm wide each way.`;
    if (a?.kind === 'lobes')
      return `Squeezed oval towards ${where(a.turn_deg)}, differently with height: ${a.depth.map((d, k) => `${d.depth_mm < 0 ? '-' : ''}${mm(d.depth_mm)} ${HEIGHTS[k]}`).join(', ')}, longest against shortest way.`;
    return '';
  });
  const points = made.pointsAdded > 0 ? [`${made.pointsAdded} more points on the line.`] : [];
  return [...points, ...list.filter((t) => t !== '')];
};
