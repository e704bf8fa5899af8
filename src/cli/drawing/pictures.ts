import type { Mesh, WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Firing } from '../../making/firing/firing.ts';
import { bandShapes } from './band.ts';
import type { Picture } from './picture.ts';
import { propBodies, propLines } from './props.ts';
import { type CutLine, cutSection, type Plane } from './section.ts';

interface View {
  readonly plane: Plane;
  readonly name: string;
  /** Where in this picture the next one is cut. */
  readonly cutAt_m?: number;
}

const THROUGH_THE_MIDDLE: Plane = { x0_m: 0, y0_m: 0, along_rad: 0 };
/** A lip leans as it sags; a cut nearer to an end than this share of the length would miss half of it. */
const FROM_THE_END = 0.12;

/** Where along x to cut a lying piece across: where it sagged most, if a whole ring can be had there. */
const acrossAt_m = (fired: WallMesh, sag_m: Float64Array): number => {
  let most = 0;
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < sag_m.length; i++) {
    if (sag_m[i] > sag_m[most]) most = i;
    low = Math.min(low, fired.positions[3 * i]);
    high = Math.max(high, fired.positions[3 * i]);
  }
  const margin = FROM_THE_END * (high - low);
  return Math.min(Math.max(fired.positions[3 * most], low + margin), high - margin);
};

/** A standing piece is cut once, through its axis; a lying one (axis along x) also across. */
const viewsOf = (firing: Firing, fired: WallMesh): readonly View[] => {
  if (firing.input.setting.attitude !== 'on its side') return [{ plane: THROUGH_THE_MIDDLE, name: '' }];
  const x0_m = acrossAt_m(fired, firing.sag_m);
  return [
    { plane: THROUGH_THE_MIDDLE, name: ', along', cutAt_m: x0_m },
    { plane: { x0_m, y0_m: 0, along_rad: Math.PI / 2 }, name: ', across' },
  ];
};

/** The fired piece: the last picture of the film on the triangles of the first. */
export const firedWall = ({ dry, frames }: Firing): WallMesh => {
  const last = frames.at(-1);
  return last === undefined
    ? dry
    : { triangles: dry.triangles, positions: last.positions, thickness_m: last.thickness_m };
};

/** The dry piece is cut where the fired one is, at the same share of its length, so that like is laid on like. */
const sameCutDry = (plane: Plane, firing: Firing): Plane => {
  const scale = firing.frames.at(-1)?.linearScale ?? 1;
  return { ...plane, x0_m: plane.x0_m / scale, y0_m: plane.y0_m / scale };
};

export const capital = (text: string): string => text[0].toUpperCase() + text.slice(1);

/** How tall or wide a piece reaches, m. */
export const reachOf = (positions: Float64Array): number =>
  positions.reduce((most, x) => Math.max(most, Math.abs(x)), 0);

/** The props as bodies beside the fired piece. */
export const firedProps = ({ input, frames, propsAt_m, dry }: Firing): Mesh[] =>
  propBodies(input.setting, propsAt_m ?? [0, 0], frames.at(-1)?.linearScale ?? 1, reachOf(dry.positions));

/** The sections of one firing, before and after; what is said of it stands under the first of them. */
export const picturesOf = (firing: Firing, called: string, sentences: readonly string[]): Picture[] => {
  const fired = firedWall(firing);
  const unmoved = new Float64Array(firing.sag_m.length);
  const around = firing.bands ? bandShapes(fired, firing.bands) : [];
  const bodies = firedProps(firing);
  return viewsOf(firing, fired).map(({ plane, name, cutAt_m }, i) => {
    const before: CutLine[] = cutSection(firing.dry, unmoved, sameCutDry(plane, firing));
    const after = cutSection(fired, firing.sag_m, plane);
    return {
      caption: capital(called) + name,
      before,
      after,
      band: around.map((shape) => cutSection(shape, unmoved, plane)),
      props: propLines(bodies, plane),
      cutAt_m,
      sentences: i === 0 ? sentences : [],
    };
  });
};
