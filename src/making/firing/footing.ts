/** Where the weight of a standing piece lies against what it stands on. */

/** Convex hull in the plane, counter-clockwise (A. M. Andrew, Inf. Process. Lett. 9 (1979) 216-219). */
const hull = (points: readonly (readonly [number, number])[]): (readonly [number, number])[] => {
  const p = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  if (p.length < 2) return p;
  const half = (list: typeof p) => {
    const out: typeof p = [];
    for (const q of list) {
      while (out.length > 1) {
        const [a, b] = [out[out.length - 2], out[out.length - 1]];
        if ((b[0] - a[0]) * (q[1] - a[1]) - (b[1] - a[1]) * (q[0] - a[0]) > 0) break;
        out.pop();
      }
      out.push(q);
    }
    return out;
  };
  const lower = half(p);
  const upper = half(p.reverse());
  return [...lower.slice(0, -1), ...upper.slice(0, -1)];
};

export interface Footing {
  /** Signed way from the weight to the nearest edge, m; negative: outside. */
  readonly margin: number;
  readonly pivot: readonly [number, number];
  /** Horizontal direction in which it tips, unit. */
  readonly towards: readonly [number, number];
}

/** Where the weight stands against the outline of the points that touch. */
export const footingOf = (
  touching: readonly (readonly [number, number])[],
  x: number,
  y: number,
): Footing => {
  const h = hull(touching);
  let best: Footing | undefined;
  let inside = h.length > 2;
  for (let i = 0; i < h.length; i++) {
    const a = h[i];
    const b = h[(i + 1) % h.length];
    const ex = b[0] - a[0];
    const ey = b[1] - a[1];
    const len2 = ex * ex + ey * ey;
    const s = len2 > 0 ? Math.min(1, Math.max(0, ((x - a[0]) * ex + (y - a[1]) * ey) / len2)) : 0;
    const px = a[0] + s * ex;
    const py = a[1] + s * ey;
    const d = Math.hypot(x - px, y - py);
    // One point or one edge has no inside.
    const left = h.length > 2 && ex * (y - a[1]) - ey * (x - a[0]) >= 0;
    if (!left) inside = false;
    if (!best || d < best.margin) {
      // Straight over an edge the way is across it, to its right, which is outwards.
      const len = Math.sqrt(len2) || 1;
      const away: [number, number] = d > 1e-9 && !left ? [(x - px) / d, (y - py) / d] : [ey / len, -ex / len];
      best = { margin: d, pivot: [px, py], towards: len2 > 0 || d > 1e-9 ? away : [1, 0] };
    }
  }
  const f = best as Footing;
  return inside ? f : { ...f, margin: -f.margin };
};
