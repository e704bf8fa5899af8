import type { Firing } from '../../making/firing/firing.ts';
import type { Setting } from '../../making/firing/setting.ts';
import { quantityOf } from './quantity.ts';

const COUNTS = ['no', 'one', 'two', 'three', 'four', 'five', 'six'];

/** `two saddles and a wall` */
const propsTold = (props: Setting['props']): string => {
  const kinds = [...new Set(props.map(({ kind }) => kind))];
  const each = kinds.map((kind) => {
    const count = props.filter((prop) => prop.kind === kind).length;
    return `${COUNTS[count] ?? count} ${kind}${count > 1 ? 's' : ''}`;
  });
  return each.length < 2 ? each.join() : `${each.slice(0, -1).join(', ')} and ${each.at(-1)}`;
};

/** How a piece stands, in a clause: `on its side, turned 30°, two saddles, left side 20 °C hotter`. */
export const settingTold = (setting: Setting): string => {
  const { attitude, turn_deg, lean_deg, props, friction, shelf, hotSide } = setting;
  const turned = turn_deg !== 0 && (attitude === 'on its side' || attitude === 'leaning');
  return [
    attitude === 'leaning' ? `leaning by ${lean_deg}°` : attitude,
    ...(turned ? [`turned by ${turn_deg}°`] : []),
    ...(props.length > 0 ? [propsTold(props)] : []),
    ...(friction === undefined ? (shelf === 'grips' ? ['the shelf grips'] : []) : [`friction ${friction}`]),
    ...(hotSide && hotSide.difference_C > 0
      ? [`${hotSide.difference_C} °C hotter towards ${hotSide.towards_deg}°`]
      : []),
  ].join(', ');
};

/** What carries a fired piece: shelf and props with the area that rests on each, m². */
export const restsOf = ({ input, contactArea_m2, propAreas_m2 }: Firing) => [
  { on: 'the shelf', area_m2: contactArea_m2 },
  ...input.setting.props.map((prop, i) => ({
    on: `prop ${i + 1} (${prop.kind})`,
    area_m2: propAreas_m2?.[i] ?? 0,
  })),
];

/** The same as one sentence; undefined where nothing but the shelf could carry it. */
export const restsTold = (firing: Firing): string | undefined => {
  if (firing.input.setting.props.length === 0) return undefined;
  const { told, unit } = quantityOf('contactArea_m2');
  const all = restsOf(firing);
  const carrying = all.filter(({ area_m2 }) => area_m2 > 0);
  const parts = carrying.map(({ on, area_m2 }) => `${told(area_m2)} ${unit} on ${on}`);
  // An area is found from the nodes that lie on a prop; edges and points between nodes carry without one.
  return parts.length > 0
    ? `Rests with ${parts.join(', ')}; edges and single points are not counted.`
    : 'Rests on edges and single points only.';
};
