import { describe, expect, test } from 'vitest';
import { type CreepProblem, type CreepStep, creep } from '../../src/kernel/shell/creep.ts';
import { powerBalance } from '../../src/kernel/shell/power.ts';
import { grid, hold, type Point, quarterDisc, symmetry } from '../meshes.ts';
import { storedIn } from '../power.ts';

/**
 * Nothing is won or lost: what weight gives, the soft wall turns to heat, at every step of the reference cases' walls
 * (geometry of reference/cases.json on coarser meshes). First the powers of one moment, the wall's own summed here element
 * by element from speeds alone; then over whole steps, the weight's work as height lost, which knows of no speeds.
 */
const [RHO, G] = [2400, 9.81];

type Wall = Omit<CreepProblem, 'density_kg_m3' | 'gravity_m_s2' | 'thickness_m'>;

const stepsOf = (p: Wall, h: number): CreepStep[] => {
  const steps: CreepStep[] = [];
  const wall = new Float64Array(p.triangles.length / 3).fill(h);
  const run = creep(
    { ...p, thickness_m: wall, density_kg_m3: RHO, gravity_m_s2: G },
    { tolerance_m: p.shelf === 'none' ? 1e-6 : undefined },
  );
  for (let r = run.next(); ; r = run.next()) {
    if (!r.done) {
      steps.push(r.value);
      continue;
    }
    expect(r.value.kind).toBe('time is up');
    return steps;
  }
};

const bar = (): CreepStep[] => {
  const [n, m] = [24, 4];
  const g = grid(n, m, (u, v): Point => [0.075 * u, 0.0125 * v, 0]);
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= m; j++) {
      if (i === 0) hold(held, g.id(i, j), symmetry.x);
      if (j === 0) hold(held, g.id(i, j), symmetry.y);
      if (i === n) hold(held, g.id(i, j), [2]);
    }
  triangles = g.triangles;
  return stepsOf({ ...g, held, viscosity_Pa_s: 5e9, shelf: 'none', duration_s: 18000 }, 0.005);
};

const bowl = (how: 'clamped disc' | 'rim down'): CreepStep[] => {
  const n = 16;
  const g = grid(n, n, (u, v): Point => {
    const [x, y] = quarterDisc(u, v);
    if (how === 'clamped disc') return [0.075 * x, 0.075 * y, 0];
    const r = Math.hypot(x, y);
    const stretch = r > 0 ? Math.sin((r * Math.PI) / 2) / r : Math.PI / 2;
    return [0.08 * x * stretch, 0.08 * y * stretch, 0.08 * Math.cos((r * Math.PI) / 2)];
  });
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= n; j++) {
      if (i === 0) hold(held, g.id(i, j), symmetry.x);
      if (j === 0) hold(held, g.id(i, j), symmetry.y);
      if (i === n || j === n) hold(held, g.id(i, j), how === 'rim down' ? [2] : [0, 1, 2, 3, 4, 5]);
    }
  triangles = g.triangles;
  const [h, duration_s] = how === 'rim down' ? [0.0025, 44000] : [0.003, 10800];
  return stepsOf({ ...g, held, viscosity_Pa_s: 1e9, shelf: 'none', duration_s }, h);
};

const tube = (how: 'on its side' | 'upright'): CreepStep[] => {
  const [n, m, R, h] = [32, 8, 0.05, 0.0025];
  const upright = how === 'upright';
  const g = grid(
    n,
    m,
    (u, v): Point => {
      const a = 2 * Math.PI * u;
      if (upright) return [R * Math.cos(a), R * Math.sin(a), 0.15 * v];
      return [R * Math.sin(a), 0.15 * v, R + h / 2 - R * Math.cos(a)];
    },
    true,
  );
  triangles = g.triangles;
  return stepsOf(
    {
      ...g,
      held: new Uint8Array(0),
      viscosity_Pa_s: upright ? 1e9 : 5e9,
      shelf: 'slides',
      duration_s: upright ? 18000 : 7800,
    },
    h,
  );
};

let triangles: Uint32Array;

/**
 * Where supports come and go: a node about to land is let down by the shelf over a step, which takes power from the fall
 * that a real shelf does not (it shrinks with mesh and step), and shown shapes are lifted out of the shelf. There the powers
 * of the moment are checked, and what landing takes is measured.
 */
describe.each([
  ['bar on two edges', bar, 5e9],
  ['clamped disc', () => bowl('clamped disc'), 1e9],
  ['bowl rim down', () => bowl('rim down'), 1e9],
  ['tube upright on a shelf', () => tube('upright'), 1e9],
] as const)('%s', (_, run, viscosity_Pa_s) => {
  const steps = run();
  const mesh = triangles;

  const heat = (s: CreepStep): number =>
    storedIn(
      {
        positions: s.positions,
        triangles: mesh,
        thickness_m: s.thickness_m,
        modulus: 3 * viscosity_Pa_s,
        poisson: 0.5,
      },
      s.rates,
    );

  /** Mass of each triangle, kg; it never changes. */
  const weight = (() => {
    const first = steps[0];
    return Array.from(first.thickness_m, (h, t) => {
      const [a, b, c] = [0, 1, 2].map((k) => {
        const n = mesh[3 * t + k];
        return first.positions.subarray(3 * n, 3 * n + 3);
      });
      const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
      const v = [c[0] - a[0], c[1] - a[1], c[2] - a[2]];
      const area = Math.hypot(
        u[1] * v[2] - u[2] * v[1],
        u[2] * v[0] - u[0] * v[2],
        u[0] * v[1] - u[1] * v[0],
      );
      return 0.5 * area * h * RHO;
    });
  })();

  const height = (s: CreepStep): number =>
    weight.reduce(
      (sum, m, t) =>
        sum + (m * G * [0, 1, 2].reduce((z, k) => z + s.positions[3 * mesh[3 * t + k] + 2], 0)) / 3,
      0,
    );

  /** Heat made between moments i - 1 and i: Simpson's rule, the middle from the cubic through the four moments around. */
  const madeIn = (i: number, power: readonly number[]): number => {
    const first = Math.min(Math.max(0, i - 2), steps.length - 4);
    const near = [0, 1, 2, 3].map((k) => first + k);
    const [from, to] = [steps[i - 1].time_s, steps[i].time_s];
    const mid = (from + to) / 2;
    let middle = 0;
    for (const k of near) {
      const others = near.filter((q) => q !== k).map((q) => steps[q].time_s);
      middle += power[k] * others.reduce((f, t) => (f * (mid - t)) / (steps[k].time_s - t), 1);
    }
    return ((to - from) / 6) * (power[i - 1] + 4 * middle + power[i]);
  };

  test('at every moment the power of weight and supports is the heat of the wall, within 1 %', () => {
    const worst = Math.max(...steps.map((s) => Math.abs(powerBalance(s.powers))));
    expect(worst).toBeLessThan(0.01); // measured: 5e-8
  });

  test('and the heat is what the speeds make in the elements, summed by themselves, within 1 %', () => {
    const worst = Math.max(...steps.map((s) => Math.abs(s.powers.viscous_W / heat(s) - 1)));
    expect(worst).toBeLessThan(0.01);
  });

  test('over every step but the first three the height lost is the heat made less what supports did, within 1 %', () => {
    // Measured, worst: bar 0.2 %, disc 0.5 %, bowl 0.6 %, tube 0.2 %. The first step is not under error control: the disc
    // moves a quarter of its wall in it and the second is 6 % out.
    const power = steps.map((s) => s.powers.viscous_W + s.powers.drag_W - s.powers.support_W);
    let worst = 0;
    for (let i = 4; i < steps.length; i++) {
      const lost = height(steps[i - 1]) - height(steps[i]);
      worst = Math.max(worst, Math.abs(lost / madeIn(i, power) - 1));
    }
    expect(worst).toBeLessThan(0.01);
  });
});

test('tube on its side on a shelf: powers meet at every moment within 1 %, and landing takes less than a tenth in all', () => {
  // Measured: they meet to 1e-7. Landing takes 3 % of the work over the run.
  const steps = tube('on its side');
  const worst = Math.max(...steps.map((s) => Math.abs(powerBalance(s.powers))));
  expect(worst).toBeLessThan(0.01);
  let [taken, made] = [0, 0];
  for (let i = 1; i < steps.length; i++) {
    const half = (steps[i].time_s - steps[i - 1].time_s) / 2;
    for (const s of [steps[i - 1], steps[i]]) {
      taken += half * Math.abs(s.powers.support_W);
      made += half * s.powers.viscous_W;
    }
  }
  expect(taken / made).toBeLessThan(0.1);
});
