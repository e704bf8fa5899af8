/**
 * Triangles between two closed rings of nodes, like a zip: at each step the ring whose next edge has its middle
 * at the smaller angle goes on. Where both are level (rings of equal count) diagonals alternate, so that a pattern
 * that is its own mirror image stays so.
 *
 * @param lower node numbers of one ring with `lowerAngles` rising over one turn; `upper` the next ring
 * @returns node numbers, three a triangle, counter-clockwise seen from outside when angles rise to the right
 */
export const stitchRings = (
  lower: ArrayLike<number>,
  lowerAngles: ArrayLike<number>,
  upper: ArrayLike<number>,
  upperAngles: ArrayLike<number>,
  into: number[],
): void => {
  const [n, m] = [lower.length, upper.length];
  const turn = 2 * Math.PI;
  const angleOf = (angles: ArrayLike<number>, count: number, k: number): number => {
    const laps = Math.floor(k / count);
    return angles[k - laps * count] + laps * turn;
  };
  // Begin at the node of the upper ring nearest to the lower ring's first.
  const start = nearest(upperAngles, lowerAngles[0]);
  const low = (k: number): number => angleOf(lowerAngles, n, k);
  const up = (k: number): number => angleOf(upperAngles, m, start.index + k) + start.lap * turn;
  const nodeAt = (ring: ArrayLike<number>, k: number): number => ring[k % ring.length];
  let [i, j] = [0, 0];
  while (i < n || j < m) {
    const ahead = low(i) + low(i + 1) - up(j) - up(j + 1);
    const level = Math.abs(ahead) < 1e-9;
    const lowerFirst = j >= m || (i < n && (level ? i % 2 === 0 : ahead < 0));
    const [a, b] = [nodeAt(lower, i), nodeAt(upper, start.index + j)];
    if (lowerFirst) into.push(a, nodeAt(lower, ++i), b);
    else into.push(a, nodeAt(upper, start.index + ++j), b);
    // The other half of a level pair follows at once, or the next pair would not be level.
    if (level && i < n + 1 && j < m + 1) {
      const [c, d] = [nodeAt(lower, i), nodeAt(upper, start.index + j)];
      if (lowerFirst && j < m) into.push(c, nodeAt(upper, start.index + ++j), d);
      else if (!lowerFirst && i < n) into.push(c, nodeAt(lower, ++i), d);
    }
  }
};

const nearest = (angles: ArrayLike<number>, to: number): { index: number; lap: number } => {
  let best = { index: 0, lap: 0 };
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k < angles.length; k++) {
    const lap = Math.round((to - angles[k]) / (2 * Math.PI));
    const away = Math.abs(angles[k] + lap * 2 * Math.PI - to);
    if (away < least - 1e-12) {
      least = away;
      best = { index: k, lap };
    }
  }
  return best;
};

/** Triangles from one node to a closed ring round it; the node is inside, seen from outside counter-clockwise. */
export const fan = (centre: number, ring: ArrayLike<number>, into: number[]): void => {
  for (let k = 0; k < ring.length; k++) into.push(centre, ring[(k + 1) % ring.length], ring[k]);
};
