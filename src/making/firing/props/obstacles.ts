import type { Obstacle } from '../../../kernel/shell/obstacle.ts';
import type { Distance } from './prop.ts';
import { type Prop, shapeOf } from './table.ts';

/**
 * Props as the kernel meets them: in bone-dry lengths X = x/L, where kiln furniture, which does not shrink, grows as
 * 1/L. A distance d(x) becomes d(L·X)/L; its normal stays.
 */

/** A prop's distance about an origin that stands at `origin_m` in the piece's own frame. */
export const distanceAt = (prop: Prop, origin_m: readonly [number, number]): Distance => {
  const distance = shapeOf(prop).distance(prop);
  return (x, y, z, out) => distance(x - origin_m[0], y - origin_m[1], z, out);
};

/** The same when the piece has shrunk to L, in bone-dry lengths. */
export const distanceInDryLengths = (
  prop: Prop,
  origin_m: readonly [number, number],
  scale: number,
): Distance => {
  const distance = distanceAt(prop, origin_m);
  if (prop.shrinks || scale === 1) return distance;
  return (x, y, z, out) => {
    distance(scale * x, scale * y, scale * z, out);
    out[3] /= scale;
  };
};

/**
 * Obstacles for a creep problem in bone-dry lengths.
 * @param origin_m where the props' origin stands under the piece as set
 * @param scaleAt linear size against bone dry at a time of the problem
 */
export const obstaclesOf = (
  props: readonly Prop[],
  origin_m: readonly [number, number],
  scaleAt: (time: number) => number,
): Obstacle[] =>
  props.map((prop) => {
    const distance = distanceAt(prop, origin_m);
    if (prop.shrinks) return (x, y, z, _time, out) => distance(x, y, z, out);
    return (x, y, z, time, out) => {
      const scale = scaleAt(time);
      distance(scale * x, scale * y, scale * z, out);
      out[3] /= scale;
    };
  });
