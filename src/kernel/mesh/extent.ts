/** Directions tried; the farthest pair lies among their extremes to within 1 - cos(1°) = 0.02 %. */
const DIRECTIONS = 90;

/**
 * Widest level distance (m) between any two of the points.
 * @param p x, y, z each; `nodes` which of them, all when left out
 */
export const widestLevel = (p: Float64Array, nodes?: ArrayLike<number>): number => {
  const count = nodes ? nodes.length : p.length / 3;
  const nodeAt = (k: number): number => (nodes ? nodes[k] : k);
  const extremes = new Set<number>();
  for (let d = 0; d < DIRECTIONS; d++) {
    const [c, s] = [Math.cos((Math.PI * d) / DIRECTIONS), Math.sin((Math.PI * d) / DIRECTIONS)];
    let [low, high, first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, -1, -1];
    for (let k = 0; k < count; k++) {
      const n = nodeAt(k);
      const x = c * p[3 * n] + s * p[3 * n + 1];
      if (x < low) [low, first] = [x, n];
      if (x > high) [high, last] = [x, n];
    }
    if (first >= 0) extremes.add(first).add(last);
  }
  const list = [...extremes];
  let widest = 0;
  for (let i = 0; i < list.length; i++)
    for (let j = i + 1; j < list.length; j++)
      widest = Math.max(
        widest,
        Math.hypot(p[3 * list[i]] - p[3 * list[j]], p[3 * list[i] + 1] - p[3 * list[j] + 1]),
      );
  return widest;
};

/** Lowest and highest z (m) of the points. */
export const verticalExtent = (p: Float64Array): { readonly low: number; readonly high: number } => {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 2; i < p.length; i += 3) {
    low = Math.min(low, p[i]);
    high = Math.max(high, p[i]);
  }
  return { low, high };
};
