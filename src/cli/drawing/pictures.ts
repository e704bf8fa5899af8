import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { Firing } from '../../making/firing/firing.ts';
import { type CutLine, cutSection, type Plane } from './section.ts';
import type { Picture } from './sheet.ts';

interface View {
  readonly plane: Plane;
  readonly name: string;
}

const THROUGH_THE_MIDDLE: Plane = { x0_m: 0, y0_m: 0, along_rad: 0 };

/** Where along x the wall sagged most: there the cross-cut of a lying piece tells most. */
const mostSaggedX_m = (fired: WallMesh, sag_m: Float64Array): number => {
  let most = 0;
  for (let i = 0; i < sag_m.length; i++) if (sag_m[i] > sag_m[most]) most = i;
  return fired.positions[3 * most];
};

/** A standing piece is cut once, through its axis; a lying one (axis along x) also across. */
const viewsOf = (firing: Firing, fired: WallMesh): readonly View[] => {
  if (firing.input.setting.attitude !== 'on its side') return [{ plane: THROUGH_THE_MIDDLE, name: '' }];
  const x0_m = mostSaggedX_m(fired, firing.sag_m);
  return [
    { plane: THROUGH_THE_MIDDLE, name: ', along' },
    { plane: { x0_m, y0_m: 0, along_rad: Math.PI / 2 }, name: ', across where it sagged most' },
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

const capital = (text: string): string => text[0].toUpperCase() + text.slice(1);

/** The sections of one firing, before and after; what is said of it stands under the first of them. */
export const picturesOf = (firing: Firing, sentences: readonly string[]): Picture[] => {
  const fired = firedWall(firing);
  const unmoved = new Float64Array(firing.sag_m.length);
  return viewsOf(firing, fired).map(({ plane, name }, i) => {
    const before: CutLine[] = cutSection(firing.dry, unmoved, sameCutDry(plane, firing));
    const after = cutSection(fired, firing.sag_m, plane);
    const caption = capital(firing.input.setting.attitude) + name;
    return { caption, before, after, sentences: i === 0 ? sentences : [] };
  });
};
