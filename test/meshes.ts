/** Regular test meshes: a map of the unit square, diagonals alternating so that no direction is preferred. */
export interface Grid {
  readonly positions: Float64Array;
  readonly triangles: Uint32Array;
  readonly nodes: number;
  /** Node number of grid point (i, j). */
  readonly id: (i: number, j: number) => number;
}

export type Point = readonly [number, number, number];

export const grid = (nu: number, nv: number, at: (u: number, v: number) => Point, closed = false): Grid => {
  const columns = closed ? nu : nu + 1;
  const id = (i: number, j: number) => (i % columns) * (nv + 1) + j;
  const nodes = columns * (nv + 1);
  const positions = new Float64Array(3 * nodes);
  for (let i = 0; i < columns; i++)
    for (let j = 0; j <= nv; j++) positions.set(at(i / nu, j / nv), 3 * id(i, j));
  const triangles: number[] = [];
  for (let i = 0; i < nu; i++)
    for (let j = 0; j < nv; j++) {
      const [a, b, c, d] = [id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j + 1)];
      if ((i + j) % 2) triangles.push(a, b, c, a, c, d);
      else triangles.push(a, b, d, b, c, d);
    }
  return { positions, triangles: Uint32Array.from(triangles), nodes, id };
};

/** The quarter disc as a map of the unit square: (u, v) → (u·√(1-v²/2), v·√(1-u²/2)). */
export const quarterDisc = (u: number, v: number): readonly [number, number] => [
  u * Math.sqrt(1 - (v * v) / 2),
  v * Math.sqrt(1 - (u * u) / 2),
];

/** Closed octahedral sphere of radius r, each face split n × n; outward triangles. */
export const sphere = (n: number, r: number): { positions: Float64Array; triangles: Uint32Array } => {
  const points: number[] = [];
  const known = new Map<string, number>();
  const node = (x: number, y: number, z: number): number => {
    const key = `${x},${y},${z}`;
    const there = known.get(key);
    if (there !== undefined) return there;
    const k = r / Math.hypot(x, y, z);
    points.push(x * k, y * k, z * k);
    known.set(key, points.length / 3 - 1);
    return points.length / 3 - 1;
  };
  const triangles: number[] = [];
  for (const sx of [1, -1])
    for (const sy of [1, -1])
      for (const sz of [1, -1]) {
        const at = (i: number, j: number) => node(sx * i, sy * j, sz * (n - i - j));
        const add = (a: number, b: number, c: number) =>
          sx * sy * sz > 0 ? triangles.push(a, b, c) : triangles.push(a, c, b);
        for (let i = 0; i < n; i++)
          for (let j = 0; j < n - i; j++) {
            add(at(i, j), at(i + 1, j), at(i, j + 1));
            if (i + j < n - 1) add(at(i + 1, j), at(i + 1, j + 1), at(i, j + 1));
          }
      }
  return { positions: Float64Array.from(points), triangles: Uint32Array.from(triangles) };
};

/** Which unknowns a plane of symmetry with this normal holds: the velocity across it and both turns out of it. */
export const symmetry = { x: [0, 4, 5], y: [1, 3, 5], z: [2, 3, 4] } as const;

/** Marks unknowns (0..5) of a node as held. */
export const hold = (held: Uint8Array, node: number, unknowns: readonly number[]): void => {
  for (const c of unknowns) held[6 * node + c] = 1;
};
