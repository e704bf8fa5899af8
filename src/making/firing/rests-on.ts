import { boundaryLoops } from '../../kernel/mesh/edges.ts';
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

/**
 * Area on a support: of each triangle the thirds whose corners rest, as far as they face it; and where the wall stands on
 * its rim, the rim's length times the wall.
 */
const areaOn = (wall: WallMesh, support: Distance, touches: (point: number) => boolean): number => {
  const { triangles, thickness_m, positions: p } = wall;
  const areas = new Float64Array(triangles.length / 3);
  triangleAreas(p, triangles, areas);
  const found = new Float64Array(4);
  const body = bodyOf(wall);
  const facing = Float64Array.from({ length: body.nodes }, (_, n) => {
    gapOf(body, support, n, found);
    const i = 3 * n;
    return Math.abs(
      found[0] * body.normals[i] + found[1] * body.normals[i + 1] + found[2] * body.normals[i + 2],
    );
  });
  let sum = 0;
  for (let t = 0; t < areas.length; t++)
    for (let k = 0; k < 3; k++) {
      const n = triangles[3 * t + k];
      if (touches(n)) sum += (areas[t] * facing[n]) / 3;
    }
  for (const loop of boundaryLoops(triangles, body.nodes))
    loop.forEach((a, k) => {
      const b = loop[(k + 1) % loop.length];
      if (!touches(a) || !touches(b)) return;
      const length = Math.hypot(
        p[3 * b] - p[3 * a],
        p[3 * b + 1] - p[3 * a + 1],
        p[3 * b + 2] - p[3 * a + 2],
      );
      const edgeOn = 1 - 0.5 * (facing[a] + facing[b]);
      sum += 0.5 * edgeOn * length * (thickness_m[a] + thickness_m[b]);
    });
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
