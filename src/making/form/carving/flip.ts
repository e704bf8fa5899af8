/**
 * Turns edges until each pair of triangles has the larger smallest angles, measured in space: the plane the band was
 * triangulated in bends lobes a little (Delaunay's criterion, angles opposite an edge together at most a half turn;
 * C. Lawson, Mathematical Software III (1977) 161-194). Edges at the rim, which only one triangle has, stay.
 * @param twiceArea of a triangle of three nodes in the plane; no turned pair may have a flat or folded one
 */
export const flipInSpace = (
  positions: Float64Array,
  triangles: Uint32Array,
  twiceArea: (a: number, b: number, c: number) => number,
): void => {
  const over = neighbours(triangles, positions.length / 3);
  const p = positions;
  const angleAt = (at: number, a: number, b: number): number => {
    const [o, i, j] = [3 * at, 3 * a, 3 * b];
    const [ux, uy, uz] = [p[i] - p[o], p[i + 1] - p[o + 1], p[i + 2] - p[o + 2]];
    const [vx, vy, vz] = [p[j] - p[o], p[j + 1] - p[o + 1], p[j + 2] - p[o + 2]];
    const [x, y, z] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    return Math.atan2(Math.sqrt(x * x + y * y + z * z), ux * vx + uy * vy + uz * vz);
  };
  const stack: number[] = [];
  for (let e = 0; e < triangles.length; e++) if (over[e] > e) stack.push(e);
  const after = (e: number): number => (e % 3 === 2 ? e - 2 : e + 1);
  let left = 6 * triangles.length;
  for (let e = stack.pop(); e !== undefined && left-- > 0; e = stack.pop()) {
    const f = over[e];
    if (f < 0) continue;
    const [e1, f1] = [after(e), after(f)];
    const [e2, f2] = [after(e1), after(f1)];
    const [a, b, c, d] = [triangles[e], triangles[e1], triangles[e2], triangles[f2]];
    if (angleAt(c, a, b) + angleAt(d, a, b) <= Math.PI + 1e-3) continue;
    const whole = twiceArea(a, b, c) + twiceArea(b, a, d);
    if (Math.min(twiceArea(a, d, c), twiceArea(d, b, c)) < 0.1 * whole) continue;
    // a b c + b a d becomes a d c + d b c: e runs a→d, its follower d→c is the shared edge.
    const [bc, ca, ad, db] = [over[e1], over[e2], over[f1], over[f2]];
    triangles.set([a, d, c], 3 * Math.floor(e / 3));
    triangles.set([d, b, c], 3 * Math.floor(f / 3));
    const [E, F] = [3 * Math.floor(e / 3), 3 * Math.floor(f / 3)];
    const join = (here: number, there: number): void => {
      over[here] = there;
      if (there >= 0) over[there] = here;
    };
    join(E, ad);
    join(E + 1, F + 2);
    join(E + 2, ca);
    join(F, db);
    join(F + 1, bc);
    for (const edge of [E, E + 2, F, F + 1]) if (over[edge] >= 0) stack.push(edge);
  }
};

/** For each edge (triangle corner k to the next) the same edge seen from the other triangle; -1 at a rim. */
export const neighbours = (triangles: Uint32Array, nodes: number): Int32Array => {
  const over = new Int32Array(triangles.length).fill(-1);
  const seen = new Map<number, number>();
  for (let e = 0; e < triangles.length; e++) {
    const [from, to] = [triangles[e], triangles[e % 3 === 2 ? e - 2 : e + 1]];
    const other = seen.get(to * nodes + from);
    if (other === undefined) seen.set(from * nodes + to, e);
    else {
      over[e] = other;
      over[other] = e;
    }
  }
  return over;
};
