/**
 * Slopes for a cubic through (t, x) that never leaves the band between neighbouring points: the three-point
 * (parabola) slope, cut back to at most three times the smaller neighbouring chord, and zero at a turning point.
 * Limiter: C. de Boor and B. Swartz, J. Approx. Theory 21 (1977) 411-416; J. M. Hyman, SIAM J. Sci. Stat.
 * Comput. 4 (1983) 645-654.
 */
export const slopes = (t: ArrayLike<number>, x: ArrayLike<number>): Float64Array => {
  const n = t.length;
  const out = new Float64Array(n);
  if (n < 2) return out;
  const chord = (i: number): number => (x[i + 1] - x[i]) / (t[i + 1] - t[i]);
  if (n === 2) return out.fill(chord(0));
  const limited = (slope: number, a: number, b: number): number => {
    if (a * b <= 0) return 0;
    const most = 3 * Math.min(Math.abs(a), Math.abs(b));
    return Math.sign(a) * Math.min(most, Math.max(0, Math.sign(a) * slope));
  };
  for (let i = 1; i < n - 1; i++) {
    const [h, k] = [t[i] - t[i - 1], t[i + 1] - t[i]];
    const [a, b] = [chord(i - 1), chord(i)];
    out[i] = limited((a * k + b * h) / (h + k), a, b);
  }
  // At an end: the slope that makes the end piece a parabola, held to its own chord.
  const end = (a: number, inner: number): number => {
    const slope = 2 * a - inner;
    return slope * a <= 0 ? 0 : Math.sign(a) * Math.min(Math.abs(slope), 3 * Math.abs(a));
  };
  out[0] = end(chord(0), out[1]);
  out[n - 1] = end(chord(n - 2), out[n - 2]);
  return out;
};

/** The cubic between two points with given slopes, at `s` from 0 to 1 of the way (Hermite form). */
export const between = (x0: number, x1: number, m0: number, m1: number, h: number, s: number): number => {
  const r = 1 - s;
  return r * r * ((1 + 2 * s) * x0 + s * h * m0) + s * s * ((3 - 2 * s) * x1 - r * h * m1);
};

/** A smooth curve through points with rising first entry, level beyond the first and last. */
export const curveThrough = (points: readonly (readonly [number, number])[]): ((at: number) => number) => {
  const t = points.map((p) => p[0]);
  const x = points.map((p) => p[1]);
  const m = slopes(t, x);
  const last = t.length - 1;
  return (at) => {
    if (at <= t[0]) return x[0];
    if (at >= t[last]) return x[last];
    let i = 0;
    while (at > t[i + 1]) i++;
    const h = t[i + 1] - t[i];
    return between(x[i], x[i + 1], m[i], m[i + 1], h, (at - t[i]) / h);
  };
};
