import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { triangleAreas } from '../../kernel/shell/geometry.ts';
import type { Firing } from './firing.ts';
import { distanceInDryLengths } from './props/obstacles.ts';
import type { Distance } from './props/prop.ts';
import { shelf } from './set-on-props.ts';
import type { Setting } from './setting.ts';
import { bodyOf, gapOf } from './settle/body.ts';

/** Which part of a fired piece rests on what. */

/** Skin within this of a support counts as lying on it, m. */
const RESTS_m = 1e-4;

/** Area of the triangles' faces on a support: each third of a triangle counts where its corner, each face where its middle rests. */
const areaOn = (wall: WallMesh, support: Distance, touches: (point: number) => boolean): number => {
  const areas = new Float64Array(wall.triangles.length / 3);
  triangleAreas(wall.positions, wall.triangles, areas);
  let sum = 0;
  const found = new Float64Array(4);
  const body = bodyOf(wall);
  for (let t = 0; t < areas.length; t++) {
    let share = 0;
    let facing = 0;
    for (let k = 0; k < 3; k++) {
      const n = wall.triangles[3 * t + k];
      if (!touches(n)) continue;
      share += 1 / 3;
      gapOf(body, support, n, found);
      facing += Math.abs(
        found[0] * body.normals[3 * n] +
          found[1] * body.normals[3 * n + 1] +
          found[2] * body.normals[3 * n + 2],
      );
    }
    // What a wall standing on edge hides above that edge is not lain on.
    if (share > 0) sum += (areas[t] * facing) / 3;
  }
  return sum;
};

/**
 * @param fired at its true size, shelf at z = 0
 * @param scale linear size against bone dry
 * @param origin_m where the props' origin stood as it was set; kiln furniture stays there
 */
export const whatItRestsOn = (
  fired: WallMesh,
  scale: number,
  setting: Setting,
  origin_m: readonly [number, number],
): Pick<Firing, 'restsOn' | 'propAreas_m2' | 'propsAt_m'> => {
  const dry = {
    positions: fired.positions.map((x) => x / scale),
    thickness_m: fired.thickness_m.map((h) => h / scale),
    triangles: fired.triangles,
  };
  const body = bodyOf(dry);
  const supports = [shelf, ...setting.props.map((p) => distanceInDryLengths(p, origin_m, scale))];
  const near = supports.map((support) =>
    Float64Array.from({ length: body.nodes }, (_, n) => scale * gapOf(body, support, n)),
  );
  const restsOn = Uint8Array.from({ length: body.nodes }, (_, n) => {
    const first = near.findIndex((gaps) => gaps[n] < RESTS_m);
    return first + 1;
  });
  return {
    restsOn,
    propAreas_m2: setting.props.map(
      (_, i) => scale ** 2 * areaOn(dry, supports[i + 1], (n) => near[i + 1][n] < RESTS_m),
    ),
    propsAt_m: origin_m,
  };
};
