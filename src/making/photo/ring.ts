/** A closed line in a plane: x, y, x, y, ...; the last point joins the first. */
export type Ring = Float64Array;

export const ringLength = (ring: Ring): number => {
  const n = ring.length / 2;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    sum += Math.hypot(ring[2 * j] - ring[2 * i], ring[2 * j + 1] - ring[2 * i + 1]);
  }
  return sum;
};

/** Signed area: above 0 where the ring runs anticlockwise with y up. */
export const ringArea = (ring: Ring): number => {
  const n = ring.length / 2;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    sum += ring[2 * i] * ring[2 * j + 1] - ring[2 * j] * ring[2 * i + 1];
  }
  return sum / 2;
};

/** The same line with `count` points at even distances along it. */
export const evenly = (ring: Ring, count: number): Ring => {
  const n = ring.length / 2;
  const step = ringLength(ring) / count;
  const out = new Float64Array(2 * count);
  let [i, before, side] = [0, 0, Math.hypot(ring[2] - ring[0], ring[3] - ring[1])];
  for (let k = 0; k < count; k++) {
    while (i < n - 1 && before + side < k * step) {
      before += side;
      i++;
      const j = (i + 1) % n;
      side = Math.hypot(ring[2 * j] - ring[2 * i], ring[2 * j + 1] - ring[2 * i + 1]);
    }
    const j = (i + 1) % n;
    const t = side > 0 ? Math.min(1, (k * step - before) / side) : 0;
    for (let c = 0; c < 2; c++) out[2 * k + c] = ring[2 * i + c] + t * (ring[2 * j + c] - ring[2 * i + c]);
  }
  return out;
};

/** (1 2 1)/4 along a closed row of values with `width` values a point, so often. */
export const smoothedAlong = (values: Float64Array, width: number, times: number): Float64Array => {
  const n = values.length / width;
  let from = values;
  for (let pass = 0; pass < times; pass++) {
    const to = new Float64Array(from.length);
    for (let i = 0; i < n; i++)
      for (let c = 0; c < width; c++)
        to[i * width + c] =
          0.25 * from[((i + n - 1) % n) * width + c] +
          0.5 * from[i * width + c] +
          0.25 * from[((i + 1) % n) * width + c];
    from = to;
  }
  return from;
};

/** Unit normals out of a ring that runs anticlockwise (y up). */
export const normalsOf = (ring: Ring): Float64Array => {
  const n = ring.length / 2;
  const out = new Float64Array(ring.length);
  for (let i = 0; i < n; i++) {
    const [a, b] = [(i + n - 1) % n, (i + 1) % n];
    const [x, y] = [ring[2 * b] - ring[2 * a], ring[2 * b + 1] - ring[2 * a + 1]];
    const l = Math.hypot(x, y) || 1;
    out[2 * i] = y / l;
    out[2 * i + 1] = -x / l;
  }
  return out;
};

/** Nearest place on a ring to a point: which side of the ring, how far along it, and how far off. */
export const nearestOn = (
  ring: Ring,
  x: number,
  y: number,
): { side: number; share: number; distance: number } => {
  const n = ring.length / 2;
  let [side, share, least] = [0, 0, Number.POSITIVE_INFINITY];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [ax, ay] = [ring[2 * i], ring[2 * i + 1]];
    const [ux, uy] = [ring[2 * j] - ax, ring[2 * j + 1] - ay];
    const l2 = ux * ux + uy * uy;
    const t = l2 > 0 ? Math.min(1, Math.max(0, ((x - ax) * ux + (y - ay) * uy) / l2)) : 0;
    const d2 = (x - ax - t * ux) ** 2 + (y - ay - t * uy) ** 2;
    if (d2 < least) [side, share, least] = [i, t, d2];
  }
  return { side, share, distance: Math.sqrt(least) };
};
