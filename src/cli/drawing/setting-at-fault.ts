import type { Fault } from '../../error.ts';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { FiringInput } from '../../making/firing/firing.ts';
import { dryScaleOf } from '../../making/firing/placed.ts';
import { setDown } from '../../making/firing/set-down.ts';
import { setOnProps } from '../../making/firing/set-on-props.ts';
import { propTrouble } from '../../making/firing/standing-trouble.ts';
import { meshForm } from '../../making/form/mesh-form.ts';
import type { Mark, Picture } from './picture.ts';
import { capital, reachOf } from './pictures.ts';
import { propBodies, propLines } from './props.ts';
import { cutSection, type Plane } from './section.ts';

const TRIANGLES = 3000;

interface Stood {
  readonly wall: WallMesh;
  /** Where the weight stood when it was let go, over the props' origin. */
  readonly weightAt_m: readonly [number, number];
}

/** As far as it came when it was set down. */
const setAsAsked = (input: FiringInput): Stood => {
  const mesh = meshForm(input.form, {
    triangles: Math.min(input.triangles, TRIANGLES),
    scale: dryScaleOf(input),
  });
  const { setting } = input;
  if (setting.attitude !== 'leaning' && setting.props.length === 0)
    return { wall: { ...mesh, positions: setDown(mesh, setting).positions }, weightAt_m: [0, 0] };
  const { body, weightAt_m } = setOnProps(mesh, setting);
  return { wall: { ...mesh, positions: body.positions.slice(0, 3 * body.nodes) }, weightAt_m };
};

/** A plumb line from the weight down to the shelf, with its foot. */
const plumb = (u_m: number, high_m: number): Mark[] => [
  {
    line: [
      [u_m, 0],
      [u_m, high_m],
    ],
    closed: false,
    bad: true,
  },
  {
    line: [
      [u_m - 0.003, 0.003],
      [u_m, 0],
      [u_m + 0.003, 0.003],
    ],
    closed: false,
    bad: true,
  },
];

/** A piece that does not stand as asked, with the props at fault (all, where none is named) and its weight in red. */
export const settingAtFault = (
  input: FiringInput,
  called: string,
  faults: readonly Fault[],
  sentences: readonly string[],
): Picture[] => {
  const { wall, weightAt_m } = setAsAsked(input);
  const named = propTrouble(faults);
  const bodies = propBodies(input.setting, [0, 0], 1, reachOf(wall.positions));
  const bad = (prop: number): boolean => named.length === 0 || named.includes(prop);
  const views: (Plane & { readonly name: string })[] = [
    { x0_m: 0, y0_m: 0, along_rad: 0, name: 'from the front' },
    { x0_m: 0, y0_m: 0, along_rad: Math.PI / 2, name: 'from the side' },
  ];
  const still = new Float64Array(wall.thickness_m.length);
  return views.map((plane, i) => ({
    caption: `${capital(called)}, ${plane.name}`,
    before: cutSection(wall, still, plane),
    after: [],
    props: propLines(bodies, plane, bad),
    marks: named.length === 0 ? plumb(weightAt_m[i], 0.5 * reachOf(wall.positions)) : [],
    sentences: i === 0 ? sentences : [],
  }));
};
