/** Where segment a–b meets segment c–d, as shares of each; undefined when they do not meet. Plane points. */
const meet = (
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  a: number,
  c: number,
): { readonly s: number; readonly t: number } | undefined => {
  const [ux, uy] = [x[a + 1] - x[a], y[a + 1] - y[a]];
  const [vx, vy] = [x[c + 1] - x[c], y[c + 1] - y[c]];
  const cross = ux * vy - uy * vx;
  if (cross === 0) return undefined;
  const [wx, wy] = [x[c] - x[a], y[c] - y[a]];
  const s = (wx * vy - wy * vx) / cross;
  const t = (wx * uy - wy * ux) / cross;
  return s >= 0 && s <= 1 && t >= 0 && t <= 1 ? { s, t } : undefined;
};

export interface Crossing {
  /** The line meets itself between points `first`, `first + 1` and again between `second`, `second + 1`. */
  readonly first: number;
  readonly second: number;
  readonly x: number;
  readonly y: number;
}

/** The first place from `start` on where an open plane line crosses itself, looking `ahead` segments far. */
export const selfCrossing = (
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  start = 0,
  ahead = Number.POSITIVE_INFINITY,
): Crossing | undefined => {
  for (let a = start; a + 1 < x.length; a++) {
    const [lowX, highX] = [Math.min(x[a], x[a + 1]), Math.max(x[a], x[a + 1])];
    const last = Math.min(x.length - 2, a + ahead);
    for (let c = a + 2; c <= last; c++) {
      if (Math.max(x[c], x[c + 1]) < lowX || Math.min(x[c], x[c + 1]) > highX) continue;
      const at = meet(x, y, a, c);
      if (at)
        return {
          first: a,
          second: c,
          x: x[a] + at.s * (x[a + 1] - x[a]),
          y: y[a] + at.s * (y[a + 1] - y[a]),
        };
    }
  }
  return undefined;
};
