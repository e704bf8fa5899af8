import { forgeHere } from '../../src/cli/forge.ts';
import { wasmEngine } from '../../src/kernel/numerics/wasm-engine.ts';
import { parseReduced, runReduced } from '../../src/kernel/shell/reduced.ts';
import { type Grid, grid } from '../../test/meshes.ts';
import { DENSITY_kg_m3, GRAVITY_m_s2, type Side, type WallProblem } from './problems.ts';

/** A wall as a reduced problem of ours, run through the same door as `afterfire reduced`. */
export interface ShellFineness {
  readonly nu: number;
  readonly nv: number;
  readonly tolerance_m: number;
}

export interface ShellRun {
  readonly seconds: number;
  readonly shapes: ReadonlyMap<number, Float64Array>;
  readonly triangles: number;
  readonly at: (i: number, j: number) => number;
}

const sides = (g: Grid, f: ShellFineness, side: Side): number[] => {
  const along = (n: number, at: (k: number) => number) => Array.from({ length: n + 1 }, (_, k) => at(k));
  if (side === 'u0') return along(f.nv, (k) => g.id(0, k));
  if (side === 'u1') return along(f.nv, (k) => g.id(f.nu, k));
  return along(f.nu, (k) => g.id(k, side === 'v0' ? 0 : f.nv));
};

const holding = {
  'mirror-x': { velocity: ['x'], rotation: ['y', 'z'] },
  'mirror-y': { velocity: ['y'], rotation: ['x', 'z'] },
  hinge: { velocity: ['z'], rotation: [] },
  clamp: { velocity: ['x', 'y', 'z'], rotation: ['x', 'y', 'z'] },
} as const;

/** The reduced/1 file of a problem at a fineness. */
export const reducedOf = (p: WallProblem, f: ShellFineness): { json: unknown; g: Grid } => {
  const g = grid(f.nu, f.nv, (u, v) => p.at(u, v, 0));
  const points = Array.from({ length: g.nodes }, (_, n) =>
    Array.from(g.positions.subarray(3 * n, 3 * n + 3)),
  );
  const triangles = Array.from({ length: g.triangles.length / 3 }, (_, t) =>
    Array.from(g.triangles.subarray(3 * t, 3 * t + 3)),
  );
  const json = {
    afterfire: 'reduced/1',
    what: p.what,
    positions_m: points,
    triangles,
    wall_m: p.wall_m,
    density_kg_m3: DENSITY_kg_m3,
    viscosity_Pa_s: p.viscosity_Pa_s,
    gravity_m_s2: GRAVITY_m_s2,
    shelf: p.shelf ? 'slides' : 'none',
    held: p.holds.map((h) => ({ nodes: sides(g, f, h.side), ...holding[h.how] })),
    times_s: p.times_s,
    tolerance_m: f.tolerance_m,
  };
  return { json, g };
};

const forge = forgeHere(0);
const engine = forge && wasmEngine(forge);

/** Runs it by the compiled kernels on one thread, as ccx has one; the clock covers what ccx's covers: everything from the written problem to the positions. */
export const runOurs = (p: WallProblem, f: ShellFineness): ShellRun => {
  const { json, g } = reducedOf(p, f);
  const begun = performance.now();
  const run = runReduced(parseReduced(json), engine);
  for (let r = run.next(); ; r = run.next()) {
    if (!r.done) continue;
    const seconds = (performance.now() - begun) / 1000;
    const shapes = new Map(r.value.times_s.map((t, i) => [t, r.value.positions_m[i]]));
    return { seconds, shapes, triangles: g.triangles.length / 3, at: g.id };
  }
};
