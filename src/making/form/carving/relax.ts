import type { Spacing } from './fill.ts';

const TURN = 2 * Math.PI;

/** The shorter way round from a to b. */
export const wayRound = (a: number, b: number): number => {
  const d = b - a;
  return d - TURN * Math.round(d / TURN);
};

/** A triangle flatter than this share of the area its spacing asks for takes its moved nodes back. */
const FLATTEST = 0.12;

/**
 * Moves each free node (number from `fixed` on) to the mean of the middles of its triangles, each counted by how many
 * wished-for triangles it holds (a centroidal patch triangulation: L. Chen, Proc. 13th International Meshing
 * Roundtable (2004) 109-120), and takes back what would fold a triangle. In place.
 */
export const relax = (
  x: Float64Array,
  y: Float64Array,
  triangles: Uint32Array,
  fixed: number,
  spacing: Spacing,
): void => {
  const n = x.length;
  const [sumX, sumY, sum] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  const size = Float64Array.from(x, (_, i) => spacing(x[i], y[i]));
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
    const [bx, cx] = [wayRound(x[a], x[b]), wayRound(x[a], x[c])];
    const [by, cy] = [y[b] - y[a], y[c] - y[a]];
    const mean = (size[a] + size[b] + size[c]) / 3;
    const weight = Math.abs(bx * cy - cx * by) / (mean * mean);
    const [mx, my] = [(bx + cx) / 3, (by + cy) / 3];
    const add = (p: number, dx: number, dy: number): void => {
      sumX[p] += weight * dx;
      sumY[p] += weight * dy;
      sum[p] += weight;
    };
    add(a, mx, my);
    add(b, mx - bx, my - by);
    add(c, mx - cx, my - cy);
  }
  const [oldX, oldY] = [x.slice(), y.slice()];
  for (let i = fixed; i < n; i++)
    if (sum[i] > 0) {
      x[i] += sumX[i] / sum[i];
      y[i] += sumY[i] / sum[i];
    }
  takeBackFolds(x, y, oldX, oldY, triangles, fixed, size);
};

const takeBackFolds = (
  x: Float64Array,
  y: Float64Array,
  oldX: Float64Array,
  oldY: Float64Array,
  triangles: Uint32Array,
  fixed: number,
  size: Float64Array,
): void => {
  for (let again = true, pass = 0; again && pass < 5; pass++) {
    again = false;
    for (let i = 0; i < triangles.length; i += 3) {
      const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
      const twice = wayRound(x[a], x[b]) * (y[c] - y[a]) - wayRound(x[a], x[c]) * (y[b] - y[a]);
      if (twice > FLATTEST * size[a] * size[a]) continue;
      for (const p of [a, b, c])
        if (p >= fixed && (x[p] !== oldX[p] || y[p] !== oldY[p])) {
          [x[p], y[p]] = [oldX[p], oldY[p]];
          again = true;
        }
    }
  }
};
