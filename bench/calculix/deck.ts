import { DENSITY_kg_m3, GRAVITY_m_s2, type Patch, type Side, type WallProblem } from './problems.ts';

/**
 * A wall as an input deck of CalculiX (G. Dhondt, K. Wittig, ccx 2.20): 20-node bricks of reduced integration, one or more
 * through the wall; Newtonian creep as Norton's law with power 1, strain rate = stress / (3 viscosity), behind an elastic
 * modulus so high that it adds nothing; large displacement; the shelf a fixed brick under linear penalty contact.
 */
export interface Fineness {
  readonly nu: number;
  readonly nv: number;
  /** Elements through the wall. */
  readonly nw: number;
  /** Greatest increment, s; the program may take smaller ones. */
  readonly increment_s: number;
}

export interface Deck {
  readonly text: string;
  /** Node number (from 1) of the mid-surface at corner (i, j) of the elements. */
  readonly mid: (i: number, j: number) => number;
  /** Where each node starts, m. */
  readonly start: ReadonlyMap<number, readonly [number, number, number]>;
}

/** The elastic strain of a stress is this part of its creep strain over the whole time. */
const STIFF = 3e-4;
/** Pressure for a metre of overclosure, Pa/m: the shelf gives some micrometres. */
const PENALTY = 3e9;

/** Corner and mid-side places of a 20-node brick on the doubled grid, in the program's order. */
const PLACES = [
  [0, 0, 0],
  [2, 0, 0],
  [2, 2, 0],
  [0, 2, 0],
  [0, 0, 2],
  [2, 0, 2],
  [2, 2, 2],
  [0, 2, 2],
  [1, 0, 0],
  [2, 1, 0],
  [1, 2, 0],
  [0, 1, 0],
  [1, 0, 2],
  [2, 1, 2],
  [1, 2, 2],
  [0, 1, 2],
  [0, 0, 1],
  [2, 0, 1],
  [2, 2, 1],
  [0, 2, 1],
] as const;

/** Simpson's weights on the doubled grid: the mean over the wall of a quadratic field. */
const meanWeights = (nw: number): number[] =>
  Array.from({ length: 2 * nw + 1 }, (_, k) => (k % 2 ? 4 : k === 0 || k === 2 * nw ? 1 : 2));

const onSide = (side: Side, i: number, j: number, f: Fineness): boolean =>
  (side === 'u0' && i === 0) ||
  (side === 'u1' && i === 2 * f.nu) ||
  (side === 'v0' && j === 0) ||
  (side === 'v1' && j === 2 * f.nv);

const held = { 'mirror-x': [1], 'mirror-y': [2], clamp: [1, 2, 3], hinge: [] } as const;

export const deckOf = (p: WallProblem, f: Fineness): Deck => {
  const [a, b, c] = [2 * f.nu + 1, 2 * f.nv + 1, 2 * f.nw + 1];
  const patch = p.solid ?? p;
  const numbers = numbering(patch, p.wall_m, a, b, c);
  const number = (i: number, j: number, k: number): number => numbers[i + a * (j + b * k)];
  const start = new Map<number, readonly [number, number, number]>();
  const exists = (i: number, j: number, k: number): boolean => (i % 2) + (j % 2) + (k % 2) < 2;
  const lines: string[] = ['*NODE, NSET=WALLNODES'];
  for (let k = 0; k < c; k++)
    for (let j = 0; j < b; j++)
      for (let i = 0; i < a; i++) {
        if (!exists(i, j, k)) continue;
        const x = patch.at(i / (a - 1), j / (b - 1), p.wall_m * (k / (c - 1) - 0.5));
        if (start.has(number(i, j, k))) continue;
        start.set(number(i, j, k), x);
        lines.push(`${number(i, j, k)}, ${x.map((v) => v.toExponential(10)).join(', ')}`);
      }
  const flip = leftHanded(patch, p.wall_m);
  lines.push('*ELEMENT, TYPE=C3D20R, ELSET=WALL');
  let element = 0;
  const under: number[] = [];
  for (let k = 0; k < f.nw; k++)
    for (let j = 0; j < f.nv; j++)
      for (let i = 0; i < f.nu; i++) {
        const n = PLACES.map(([x, y, z]) => number(2 * i + x, 2 * j + y, 2 * k + (flip ? 2 - z : z)));
        lines.push(`${++element}, ${n.slice(0, 10).join(', ')},`, n.slice(10).join(', '));
        if (k === f.nw - 1 && i < 0.75 * f.nu) under.push(element);
      }
  lines.push(...holdsOf(patch, f, number, exists), ...(p.shelf ? shelfUnder(under, flip) : []));
  lines.push(...materialOf(p), ...stepsOf(p, f, number));
  return { text: `${lines.join('\n')}\n`, mid: (i, j) => number(2 * i, 2 * j, f.nw), start };
};

/** Node numbers of the doubled grid, from 1; where the patch runs together in one point it is one node. */
const numbering = (p: Patch, wall_m: number, a: number, b: number, c: number): number[] => {
  const known = new Map<string, number>();
  const numbers: number[] = [];
  for (let k = 0; k < c; k++)
    for (let j = 0; j < b; j++)
      for (let i = 0; i < a; i++) {
        const x = p.at(i / (a - 1), j / (b - 1), wall_m * (k / (c - 1) - 0.5));
        const key = x.map((v) => Math.round(1e10 * v)).join();
        if (!known.has(key)) known.set(key, 1 + i + a * (j + b * k));
        numbers.push(known.get(key) as number);
      }
  return numbers;
};

/** Whether u, v and the outward way of the wall make a left-handed set (bricks then stand the other way up). */
const leftHanded = (p: Patch, wall_m: number): boolean => {
  const d = 1e-4;
  const o = p.at(0.5, 0.5, 0);
  const [x, y, z] = [p.at(0.5 + d, 0.5, 0), p.at(0.5, 0.5 + d, 0), p.at(0.5, 0.5, d * wall_m)].map((q) => [
    q[0] - o[0],
    q[1] - o[1],
    q[2] - o[2],
  ]);
  return (
    x[0] * (y[1] * z[2] - y[2] * z[1]) -
      x[1] * (y[0] * z[2] - y[2] * z[0]) +
      x[2] * (y[0] * z[1] - y[1] * z[0]) <
    0
  );
};

const holdsOf = (
  p: Patch,
  f: Fineness,
  number: (i: number, j: number, k: number) => number,
  exists: (i: number, j: number, k: number) => boolean,
): string[] => {
  const fixed: string[] = [];
  const equations: string[] = [];
  const weights = meanWeights(f.nw);
  for (let j = 0; j <= 2 * f.nv; j++)
    for (let i = 0; i <= 2 * f.nu; i++) {
      const here = p.holds.filter((h) => onSide(h.side, i, j, f));
      const unknowns = new Set(here.flatMap((h) => held[h.how]));
      for (let k = 0; k <= 2 * f.nw; k++)
        if (exists(i, j, k)) for (const c of unknowns) fixed.push(`${number(i, j, k)}, ${c}, ${c}`);
      if (!here.some((h) => h.how === 'hinge')) continue;
      const column = weights
        .map((w, k) => ({ node: number(i, j, k), w: i % 2 || j % 2 ? (k % 2 ? 0 : w) : w, k }))
        .filter(({ w, k }) => w > 0 && exists(i, j, k));
      equations.push('*EQUATION', `${column.length}`);
      for (let q = 0; q < column.length; q += 4)
        equations.push(
          column
            .slice(q, q + 4)
            .map(({ node, w }) => `${node}, 3, ${w}.`)
            .join(', '),
        );
    }
  return ['*BOUNDARY', ...fixed, ...equations];
};

/** A fixed brick under everything, and contact of the wall's outside with its top. */
const shelfUnder = (under: readonly number[], flip: boolean): string[] => {
  const [first, size, element] = [900_001, 0.3, 900_001];
  const corners = [
    [-size, -size, -0.05],
    [size, -size, -0.05],
    [size, size, -0.05],
    [-size, size, -0.05],
    [-size, -size, 0],
    [size, -size, 0],
    [size, size, 0],
    [-size, size, 0],
  ];
  return [
    '*NODE, NSET=SHELFNODES',
    ...corners.map((x, k) => `${first + k}, ${x.join(', ')}`),
    '*ELEMENT, TYPE=C3D8, ELSET=SHELF',
    `${element}, ${corners.map((_, k) => first + k).join(', ')}`,
    '*BOUNDARY',
    'SHELFNODES, 1, 3',
    '*MATERIAL, NAME=STONE',
    '*ELASTIC',
    '1e12, 0.3',
    '*DENSITY',
    '2400.',
    '*SOLID SECTION, ELSET=SHELF, MATERIAL=STONE',
    '*SURFACE, NAME=TOP',
    `${element}, S2`,
    '*SURFACE, NAME=OUTSIDE',
    ...under.map((e) => `${e}, ${flip ? 'S1' : 'S2'}`),
    '*SURFACE INTERACTION, NAME=RESTS',
    '*SURFACE BEHAVIOR, PRESSURE-OVERCLOSURE=LINEAR',
    `${PENALTY}, , `,
    '*CONTACT PAIR, INTERACTION=RESTS, TYPE=NODE TO SURFACE',
    'OUTSIDE, TOP',
  ];
};

const materialOf = (p: WallProblem): string[] => {
  const end = p.times_s[p.times_s.length - 1];
  const creepModulus = (3 * p.viscosity_Pa_s) / end;
  return [
    '*MATERIAL, NAME=CLAY',
    '*ELASTIC',
    `${(creepModulus / STIFF).toExponential(6)}, 0.45`,
    '*DENSITY',
    `${DENSITY_kg_m3}.`,
    '*CREEP, LAW=NORTON',
    `${(1 / (3 * p.viscosity_Pa_s)).toExponential(10)}, 1., 0.`,
    '*SOLID SECTION, ELSET=WALL, MATERIAL=CLAY',
  ];
};

const stepsOf = (
  p: WallProblem,
  f: Fineness,
  number: (i: number, j: number, k: number) => number,
): string[] => {
  const end = p.times_s[p.times_s.length - 1];
  const read = new Set<number>();
  for (let j = 0; j <= f.nv; j++) for (let i = 0; i <= f.nu; i++) read.add(number(2 * i, 2 * j, f.nw));
  const load = ['*DLOAD', `WALL, GRAV, ${GRAVITY_m_s2}, 0., 0., -1.`];
  const first = p.times_s[0];
  // The start is the quickest part: up to the first time asked for it goes in smaller increments.
  const stage = (length_s: number, increment_s: number): string[] => [
    '*STEP, NLGEOM, INC=10000',
    '*VISCO, CETOL=1e9',
    `${increment_s}, ${length_s}., ${end * 1e-7}, ${increment_s}`,
    ...load,
    '*NODE PRINT, NSET=MID, TIME POINTS=WHEN',
    'U',
    '*END STEP',
  ];
  return [
    '*NSET, NSET=MID',
    ...[...read].map((n) => `${n},`),
    '*TIME POINTS, NAME=WHEN, TIME=TOTAL TIME',
    ...p.times_s.map((t) => `${t}.,`),
    ...stage(first, f.increment_s / EARLY),
    ...stage(end - first, f.increment_s),
  ];
};
const EARLY = 3;
