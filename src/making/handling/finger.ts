import type { FormMesh } from '../form/mesh-form.ts';

/** A fingertip on the wall: how much of its push each node takes, in all 1, and where the push acts. */
export interface Finger {
  readonly nodes: readonly number[];
  readonly shares: readonly number[];
  readonly centre: readonly [number, number, number];
}

const TURN = 2 * Math.PI;

/** The point of the lip at an angle as drawn: straight between its two neighbours. */
const lipPoint = (piece: FormMesh, angle_rad: number): [number, number, number] => {
  const { lipNodes, angle_rad: angles, positions: p } = piece;
  const ahead = (n: number): number => (((angles[n] - angle_rad) % TURN) + TURN) % TURN;
  let next = lipNodes[0];
  let before = lipNodes[0];
  for (const n of lipNodes) {
    if (ahead(n) < ahead(next)) next = n;
    if (ahead(n) > ahead(before)) before = n;
  }
  const [a, b] = [TURN - ahead(before), ahead(next)];
  const share = a + b > 0 ? a / (a + b) : 0;
  return [0, 1, 2].map((c) => (1 - share) * p[3 * before + c] + share * p[3 * next + c]) as [
    number,
    number,
    number,
  ];
};

/** Each side of a triangle is cut in this many to sum the push over it, so that it hardly depends on the mesh. */
const FINE = 8;

/**
 * A finger laid over the lip at an angle: a soft round push (1 - (d/r)²)² over the wall within `width_m`/2.
 * @param piece upright, as meshed
 */
export const fingerAt = (piece: FormMesh, angle_rad: number, width_m: number): Finger => {
  const { positions: p, triangles: t } = piece;
  const at = lipPoint(piece, angle_rad);
  const reach = width_m / 2;
  const shares = new Map<number, number>();
  const centre: [number, number, number] = [0, 0, 0];
  let total = 0;
  const away = (q: readonly number[]): number => Math.hypot(q[0] - at[0], q[1] - at[1], q[2] - at[2]);
  const corner = (n: number): number[] => [p[3 * n], p[3 * n + 1], p[3 * n + 2]];
  for (let i = 0; i < t.length; i += 3) {
    const nodes = [t[i], t[i + 1], t[i + 2]];
    const [a, b, c] = nodes.map(corner);
    const u = [0, 1, 2].map((k) => b[k] - a[k]);
    const v = [0, 1, 2].map((k) => c[k] - a[k]);
    const longest = Math.max(Math.hypot(...u), Math.hypot(...v));
    if (away(a) > reach + longest) continue;
    const area = Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
    for (let j = 0; j < FINE; j++)
      for (let k = 0; k < FINE - j; k++) {
        const [x, y] = [(j + 1 / 3) / FINE, (k + 1 / 3) / FINE];
        const q = [0, 1, 2].map((e) => a[e] + x * u[e] + y * v[e]);
        const d = away(q) / reach;
        if (d >= 1) continue;
        const push = area * (1 - d * d) ** 2;
        total += push;
        [1 - x - y, x, y].forEach((w, m) => {
          shares.set(nodes[m], (shares.get(nodes[m]) ?? 0) + push * w);
        });
        for (let e = 0; e < 3; e++) centre[e] += push * q[e];
      }
  }
  if (total === 0) return onNearest(piece, at);
  return {
    nodes: [...shares.keys()],
    shares: [...shares.values()].map((w) => w / total),
    centre: [centre[0] / total, centre[1] / total, centre[2] / total],
  };
};

/** A finger finer than the mesh pushes on the nearest node of the lip. */
const onNearest = (piece: FormMesh, at: readonly number[]): Finger => {
  const { positions: p } = piece;
  const away = (n: number): number =>
    Math.hypot(p[3 * n] - at[0], p[3 * n + 1] - at[1], p[3 * n + 2] - at[2]);
  const n = piece.lipNodes.reduce((best, m) => (away(m) < away(best) ? m : best));
  return { nodes: [n], shares: [1], centre: [p[3 * n], p[3 * n + 1], p[3 * n + 2]] };
};
