import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { compileKernels, KERNELS } from '../../scripts/assembly.ts';
import { ROOT } from '../../scripts/tools.ts';
import { forgeHere } from '../../src/cli/forge.ts';
import { multiply } from '../../src/kernel/numerics/block-matrix.ts';
import { planCrew } from '../../src/kernel/numerics/crew-plan.ts';
import { dissect, graphOfTriangles } from '../../src/kernel/numerics/dissection.ts';
import type { Forge } from '../../src/kernel/numerics/forge.ts';
import { giveBack, takeRoom } from '../../src/kernel/numerics/forge.ts';
import { planFronts } from '../../src/kernel/numerics/front-plan.ts';
import { complianceOf, factorise, solveFactored } from '../../src/kernel/numerics/multifrontal.ts';
import { wasmEngine } from '../../src/kernel/numerics/wasm-engine.ts';
import { creep } from '../../src/kernel/shell/creep.ts';
import { assemble, makeShellSystem, type ShellSystem } from '../../src/kernel/shell/system.ts';
import { grid, type Point } from '../meshes.ts';

/**
 * The compiled kernels against their plain twins, which the outside checks hold: wherever the two agree to round-off,
 * what is proved of the one is proved of the other.
 */
const tube = (around: number, along: number) => {
  const [R, h] = [0.05, 0.0025];
  const g = grid(
    around,
    along,
    (u, v): Point => [R * Math.sin(2 * Math.PI * u), 0.15 * v, R + h / 2 - R * Math.cos(2 * Math.PI * u)],
    true,
  );
  return { ...g, thickness_m: new Float64Array(g.triangles.length / 3).fill(h) };
};

const clamped = (s: ShellSystem, positions: Float64Array): Uint8Array => {
  const held = new Uint8Array(6 * s.nodes);
  for (let n = 0; n < s.nodes; n++)
    if (positions[3 * n + 1] < 1e-9) for (let c = 0; c < 6; c++) held[6 * s.rank[n] + c] = 1;
  return held;
};

let alone: Forge;
let together: Forge;
beforeAll(async () => {
  alone = forgeHere(0)!;
  together = forgeHere(2)!;
  for (let k = 0; together.exports.threads() < 3 && k < 200; k++) await new Promise((r) => setTimeout(r, 20));
});

test('the committed kernels are what assembly/ compiles to', async () => {
  expect(await compileKernels()).toBe(readFileSync(join(ROOT, KERNELS), 'utf8'));
});

test.each([
  ['one thread', () => alone],
  ['three threads', () => together],
])('stiffness by %s equals the plain one, block by block', (_, forge) => {
  // An odd number of triangles, walls and viscosities that differ, a porous and a dense body.
  const t = tube(31, 9);
  const triangles = t.triangles.slice(0, -3);
  const walls = Float64Array.from({ length: triangles.length / 3 }, (_, k) => 0.002 + 1e-5 * (k % 37));
  const modulus = walls.map((_, k) => 1e9 * (1 + 0.1 * (k % 11)));
  const plain = makeShellSystem(t.positions, triangles);
  const fast = makeShellSystem(t.positions, triangles, wasmEngine(forge()));
  for (const poisson of [0.5, 0.23]) {
    for (const s of [plain, fast]) assemble(s, t.positions, walls, { modulus, poisson });
    const most = plain.matrix.values.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
    const off = plain.matrix.values.reduce((a, b, k) => Math.max(a, Math.abs(b - fast.matrix.values[k])), 0);
    expect(off / most).toBeLessThan(1e-13);
  }
  fast.factor.engine.free();
});

describe('the compiled engine equals the plain one', () => {
  const t = tube(30, 24);
  const systems = (forge: Forge) => {
    const plain = makeShellSystem(t.positions, t.triangles);
    const fast = makeShellSystem(t.positions, t.triangles, wasmEngine(forge));
    for (const s of [plain, fast]) assemble(s, t.positions, t.thickness_m, { modulus: 3e9, poisson: 0.5 });
    const held = clamped(plain, t.positions);
    return { plain, fast, held };
  };

  test.each([
    ['one thread', () => alone],
    ['three threads', () => together],
  ])('compliance by %s, to 1e-10', (_, forge) => {
    const { plain, fast, held } = systems(forge());
    const columns = Array.from({ length: 53 }, (_, k) => ({
      at: [6 * (600 - 7 * k) + 2, 6 * (690 - k) + 1],
      value: [1, -0.3],
    }));
    const made = [plain, fast].map((s) => {
      expect(factorise(s.factor, s.matrix, held)).toBe(true);
      return complianceOf(s.factor, columns);
    });
    const most = made[0].reduce((a, b) => Math.max(a, Math.abs(b)), 0);
    made[0].forEach((v, i) => {
      expect(Math.abs(made[1][i] - v) / most).toBeLessThan(1e-10);
    });
    fast.factor.engine.free();
  });

  test.each([
    ['one thread', () => alone],
    ['three threads', () => together],
  ])('a solve by %s gives the load back', (_, forge) => {
    const { fast, held } = systems(forge());
    factorise(fast.factor, fast.matrix, held);
    const load = Float64Array.from({ length: 6 * fast.nodes }, (_, i) => (held[i] ? 0 : Math.sin(i)));
    const x = load.slice();
    solveFactored(fast.factor, x);
    const back = new Float64Array(x.length);
    multiply(fast.matrix, x, back);
    const off = load.reduce((most, f, i) => (held[i] ? most : Math.max(most, Math.abs(back[i] - f))), 0);
    // Loads are of size 1; the wall's stiffest way against its softest (1e9) times round-off.
    expect(off).toBeLessThan(1e-6);
    fast.factor.engine.free();
  });

  test('a pivot that is not positive is told, by one and by many', () => {
    for (const forge of [alone, together]) {
      const { fast } = systems(forge);
      // Nothing holds it: rigid motions have no stiffness.
      for (let k = 0; k < fast.matrix.values.length; k++) fast.matrix.values[k] *= -1;
      expect(factorise(fast.factor, fast.matrix, new Uint8Array(6 * fast.nodes))).toBe(false);
      for (let k = 0; k < fast.matrix.values.length; k++) fast.matrix.values[k] *= -1;
      expect(factorise(fast.factor, fast.matrix, clamped(fast, t.positions))).toBe(true);
      fast.factor.engine.free();
    }
  });
});

/** A piece held as its own mirror image, across and along: left alone it rolls whichever way round-off tips it. */
const mirrored = (positions: Float64Array): Uint8Array => {
  const held = new Uint8Array(2 * positions.length);
  for (let n = 0; n < positions.length / 3; n++)
    for (const [axis, at, unknowns] of [
      [0, 0, [0, 4, 5]],
      [1, 0.075, [1, 3, 5]],
    ] as const)
      if (Math.abs(positions[3 * n + axis] - at) < 1e-9) for (const c of unknowns) held[6 * n + c] = 1;
  return held;
};

test('a tube sinking on its side moves alike with the compiled engine, to 1e-10 of its size', () => {
  const t = tube(20, 12);
  const ends = [undefined, wasmEngine(together)].map((engine) => {
    const run = creep(
      {
        ...t,
        density_kg_m3: 2400,
        gravity_m_s2: 9.81,
        viscosity_Pa_s: 5e9,
        shelf: 'slides',
        held: mirrored(t.positions),
        duration_s: 1500,
      },
      { steps: 6, engine, residual: 1e-13 },
    );
    let last = t.positions;
    for (let r = run.next(); !r.done; r = run.next()) last = r.value.positions;
    return last;
  });
  ends[0].forEach((x, i) => {
    expect(Math.abs(x - ends[1][i]) / 0.1).toBeLessThan(1e-10);
  });
});

test('branches and the parts above them cover the tree once; branch stacks do not overlap', () => {
  const t = tube(30, 24);
  const graph = graphOfTriangles(t.positions.length / 3, t.triangles);
  const cut = dissect(graph, t.positions);
  const s = makeShellSystem(t.positions, t.triangles);
  const plan = planFronts(s.matrix, cut);
  const crew = planCrew(plan);
  const seen = new Uint8Array(plan.parts);
  crew.branchFirst.forEach((first, b) => {
    for (let p = first; p <= crew.branchLast[b]; p++) seen[p]++;
  });
  for (const p of crew.above) seen[p]++;
  expect(seen.every((n) => n === 1)).toBe(true);
});

test('room given back is given out again, and neighbours join', () => {
  const f = forgeHere(0)!;
  const [a, b, c] = [100, 200, 300].map((bytes) => takeRoom(f, bytes));
  giveBack(f, a);
  giveBack(f, b);
  expect(takeRoom(f, 128 + 256)).toBe(a);
  giveBack(f, c);
  giveBack(f, a);
  expect(f.free).toHaveLength(1);
});
