import { type Laid, placeFrom } from './lay.ts';
import type { LineOnWall } from './line-on-wall.ts';
import type { Unrolled } from './unroll.ts';

/** Nodes of one opening's rim on the unrolled wall, counter-clockwise. */
export interface Rim {
  readonly length: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

const FEWEST = 6;

/** Sample numbers at which stretches between corners begin; one stretch all round where there is no corner. */
const stretchesOf = ({ corner }: LineOnWall): number[] => {
  const out: number[] = [];
  corner.forEach((is, i) => {
    if (is) out.push(i);
  });
  return out.length > 0 ? out : [0];
};

const areaOf = (u: readonly number[], v: readonly number[]): number =>
  u.reduce((sum, x, i) => {
    const j = (i + 1) % u.length;
    return sum + 0.5 * (x * v[j] - u[j] * v[i]);
  }, 0);

/**
 * Stands nodes along an outline at the wished spacing (mm), corners first. A polygon inside a curve would cut too
 * little away, so it is grown about its middle until its area is that of the outline.
 */
export const rimOf = (
  wall: Unrolled,
  laid: Laid,
  line: LineOnWall,
  spacing: (x: number, y: number, length: number) => number,
): Rim => {
  const n = line.u.length;
  const starts = stretchesOf(line);
  const [u, v]: [number[], number[]] = [[], []];
  for (let k = 0; k < starts.length; k++) {
    const first = starts[k];
    const count = k + 1 < starts.length ? starts[k + 1] - first : starts[0] + n - first;
    const sum = new Float64Array(count + 1);
    for (let i = 0; i < count; i++) {
      const [a, b] = [(first + i) % n, (first + i + 1) % n];
      const step = Math.hypot(line.u[b] - line.u[a], line.v[b] - line.v[a]);
      sum[i + 1] = sum[i] + step / spacing(line.x[a], line.y[a], line.length[a]);
    }
    const least = Math.ceil(FEWEST / starts.length);
    const pieces = Math.max(starts.length < 3 ? least : 1, Math.round(sum[count]));
    let i = 0;
    for (let j = 0; j < pieces; j++) {
      const want = (sum[count] * j) / pieces;
      while (sum[i + 1] < want) i++;
      const f = (want - sum[i]) / (sum[i + 1] - sum[i] || 1);
      const [a, b] = [(first + i) % n, (first + i + 1) % n];
      u.push(line.u[a] + f * (line.u[b] - line.u[a]));
      v.push(line.v[a] + f * (line.v[b] - line.v[a]));
    }
  }
  const grow = Math.sqrt(areaOf([...line.u], [...line.v]) / areaOf(u, v));
  const middle = [u, v].map((list) => list.reduce((a, b) => a + b, 0) / list.length);
  const places = u.map((_, i) =>
    placeFrom(wall, laid.spot, middle[0] + grow * (u[i] - middle[0]), middle[1] + grow * (v[i] - middle[1])),
  );
  return {
    length: Float64Array.from(places, (p) => p.length),
    x: Float64Array.from(places, (p) => p.x),
    y: Float64Array.from(places, (p) => wall.y(p.length)),
  };
};
