import { expect, test } from 'vitest';
import { type CreepProblem, type CreepStep, creep } from '../../src/kernel/shell/creep.ts';
import { positionsAt } from '../../src/kernel/shell/film.ts';
import { grid, hold, type Point, quarterDisc, sphere, symmetry } from '../meshes.ts';

/** Creeping walls against exact solutions. Formulae: check-values/physics.md sections 1.1 and 4.5. */
const RHO = 2400;
const G = 9.81;

type Some = Pick<CreepProblem, 'positions' | 'triangles' | 'duration_s' | 'viscosity_Pa_s'> &
  Partial<CreepProblem>;

const run = (p: Some, wall_m: number, tolerance_m?: number): CreepStep[] => {
  const steps: CreepStep[] = [];
  const problem: CreepProblem = {
    density_kg_m3: RHO,
    gravity_m_s2: G,
    shelf: 'none',
    held: new Uint8Array(0),
    thickness_m: new Float64Array(p.triangles.length / 3).fill(wall_m),
    ...p,
  };
  const g = creep(problem, { tolerance_m });
  for (let r = g.next(); ; r = g.next()) {
    if (r.done) {
      expect(r.value.kind).toBe('time is up');
      return steps;
    }
    steps.push(r.value);
  }
};

/** Vertical speed of a node at the very start. */
const startSpeed = (p: Some, wall_m: number, node: number): number => run(p, wall_m)[0].rates[6 * node + 2];

test('narrow bar on two knife edges sags at 5 rho g L^4 / (96 eta h^2), within 1 %', () => {
  const [L, h, eta] = [0.1, 0.005, 1e10];
  const n = 24;
  const g = grid(n, 2, (u, v): Point => [0.5 * L * u, 0.004 * v, 0]);
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= 2; j++) {
      if (i === 0) hold(held, g.id(i, j), symmetry.x);
      if (i === n) hold(held, g.id(i, j), [2]);
      if (j === 0) hold(held, g.id(i, j), symmetry.y);
    }
  const v = -startSpeed({ ...g, held, viscosity_Pa_s: eta, duration_s: 1 }, h, g.id(0, 0));
  const exact = (5 * RHO * G * L ** 4) / (96 * eta * h ** 2);
  expect(exact).toBeCloseTo(4.905e-7, 12); // the worked number of check-values 1.1
  expect(Math.abs(v / exact - 1)).toBeLessThan(0.01);
});

test('wide strip on two edges (plane strain) sags at 5 rho g L^4 / (128 eta h^2), within 0.5 %', () => {
  const [L, h, eta] = [0.1, 0.005, 1e10];
  const n = 32;
  const g = grid(n, 2, (u, v): Point => [0.5 * L * u, 0.004 * v, 0]);
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= 2; j++) {
      hold(held, g.id(i, j), symmetry.y);
      if (i === 0) hold(held, g.id(i, j), symmetry.x);
      if (i === n) hold(held, g.id(i, j), [2]);
    }
  const v = -startSpeed({ ...g, held, viscosity_Pa_s: eta, duration_s: 1 }, h, g.id(0, 0));
  expect(Math.abs(v / 3.67875e-7 - 1)).toBeLessThan(0.005);
});

const disc = (n: number, clamped: boolean) => {
  const g = grid(n, n, (u, v): Point => {
    const [x, y] = quarterDisc(u, v);
    return [0.05 * x, 0.05 * y, 0];
  });
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= n; j++) {
      if (i === 0) hold(held, g.id(i, j), symmetry.x);
      if (j === 0) hold(held, g.id(i, j), symmetry.y);
      if (i === n || j === n) hold(held, g.id(i, j), clamped ? [0, 1, 2, 3, 4, 5] : [2]);
    }
  return -startSpeed({ ...g, held, viscosity_Pa_s: 1e10, duration_s: 1 }, 0.005, g.id(0, 0));
};

test('clamped disc sags at 3 rho g a^4 / (64 eta h^2), within 0.5 %', () => {
  expect(Math.abs(disc(24, true) / 2.7590625e-8 - 1)).toBeLessThan(0.005);
});

test('clamped disc: the error falls nearly as h^2', () => {
  // Not quite 2: the map of the square onto the disc flattens the triangles at its corner. Measured 1.68.
  const e = [8, 16, 32].map((n) => Math.abs(disc(n, true) / 2.7590625e-8 - 1));
  const order = Math.log2(e[0] / e[2]) / 2;
  expect(order).toBeGreaterThan(1.5);
  expect(order).toBeLessThan(2.5);
});

test('simply supported disc sags at 11 rho g a^4 / (64 eta h^2), within 1 %', () => {
  expect(Math.abs(disc(32, false) / 1.01165625e-7 - 1)).toBeLessThan(0.01);
});

test('long tube on a line sinks at 0.4674·3·rho g R^4 / (eta h^2), within 0.5 %', () => {
  // Coefficient: thin ring hanging on its own weight, π²/8 - ... as given in reference/cases.json (note).
  const [R, h, eta] = [0.05, 0.0025, 5e9];
  const n = 64;
  const g = grid(
    n,
    1,
    (u, v): Point => [R * Math.sin(Math.PI * u), (v * R * Math.PI) / n, -R * Math.cos(Math.PI * u)],
  );
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= 1; j++) {
      hold(held, g.id(i, j), symmetry.y);
      if (i === 0 || i === n) hold(held, g.id(i, j), symmetry.x);
      if (i === 0) hold(held, g.id(i, j), [2]);
    }
  const v = -startSpeed({ ...g, held, viscosity_Pa_s: eta, duration_s: 1 }, h, g.id(n, 0));
  // Plane strain: 4 eta in place of E/(1-nu²), D = eta h³/3; w = 0.4674·m g R⁴·12/(…): see the formula.
  expect(Math.abs(v / ((0.4674 * 3 * RHO * G * R ** 4) / (eta * h ** 2)) - 1)).toBeLessThan(0.005);
});

test('upright tube settles under its own weight at rho g H^2 / (6 eta), within 1 %', () => {
  const [R, H, eta] = [0.05, 0.15, 1e9];
  const n = 12;
  const m = 18;
  const g = grid(n, m, (u, v): Point => {
    const a = (Math.PI / 2) * u;
    return [R * Math.cos(a), R * Math.sin(a), H * v];
  });
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= m; j++) {
      if (i === 0) hold(held, g.id(i, j), symmetry.y);
      if (i === n) hold(held, g.id(i, j), symmetry.x);
      if (j === 0) hold(held, g.id(i, j), [2, 3, 4]);
    }
  const v = -startSpeed({ ...g, held, viscosity_Pa_s: eta, duration_s: 1 }, 0.0025, g.id(0, m));
  expect(Math.abs(v / ((RHO * G * H * H) / (6 * eta)) - 1)).toBeLessThan(0.01);
});

// Both blown shapes have thick walls on purpose: tension smooths a thin wall (R/h)² times faster than it grows,
// which explicit steps must follow (measured: h = R/50 needs some hundred steps). A pot under its own weight
// is not in that state.
test('blown sphere: 1/R^3 = 1/R0^3 - p t / (4 eta h0 R0^2), within 1 % of the growth', () => {
  const [R0, h0, eta, p] = [0.05, 0.01, 1e6, 10];
  const s = sphere(16, R0);
  const t = 0.4 * ((4 * eta * h0) / (p * R0)); // R grows by a fifth
  const steps = run({ ...s, viscosity_Pa_s: eta, duration_s: t, gravity_m_s2: 0, pressure_Pa: p }, h0, 2e-5);
  for (const part of [0.25, 0.5, 1]) {
    const now = positionsAt(steps, part * t);
    let mean = 0;
    for (let i = 0; i < now.length; i += 3)
      mean += Math.hypot(now[i], now[i + 1], now[i + 2]) / (now.length / 3);
    const exact = (R0 ** -3 - (p * part * t) / (4 * eta * h0 * R0 ** 2)) ** (-1 / 3);
    expect(Math.abs((mean - R0) / (exact - R0) - 1)).toBeLessThan(0.01);
  }
});

test('blown long tube of fixed length: 1/R^2 = 1/R0^2 - p t / (2 eta h0 R0), within 0.5 % of the growth', () => {
  const [R0, h0, eta, p] = [0.05, 0.01, 1e6, 10];
  const n = 48;
  const g = grid(
    n,
    1,
    (u, v): Point => [R0 * Math.cos(2 * Math.PI * u), R0 * Math.sin(2 * Math.PI * u), 0.006 * v],
    true,
  );
  const held = new Uint8Array(6 * g.nodes);
  for (let k = 0; k < g.nodes; k++) hold(held, k, symmetry.z);
  const t = 0.3 * ((2 * eta * h0) / (p * R0));
  const steps = run(
    { ...g, held, viscosity_Pa_s: eta, duration_s: t, gravity_m_s2: 0, pressure_Pa: p },
    h0,
    2e-6,
  );
  const end = steps[steps.length - 1];
  const R = Math.hypot(end.positions[0], end.positions[1]);
  const exact = (R0 ** -2 - (p * t) / (2 * eta * h0 * R0)) ** -0.5;
  expect(Math.abs((R - R0) / (exact - R0) - 1)).toBeLessThan(0.005);
});

test('nothing is lost: the wall keeps its volume to 0.1 % while a clamped disc sags into a bag', () => {
  const n = 12;
  const g = grid(n, n, (u, v): Point => {
    const [x, y] = quarterDisc(u, v);
    return [0.075 * x, 0.075 * y, 0];
  });
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= n; j++) {
      if (i === 0) hold(held, g.id(i, j), symmetry.x);
      if (j === 0) hold(held, g.id(i, j), symmetry.y);
      if (i === n || j === n) hold(held, g.id(i, j), [0, 1, 2, 3, 4, 5]);
    }
  const steps = run({ ...g, held, viscosity_Pa_s: 1e9, duration_s: 20000 }, 0.003);
  const volume = (s: CreepStep): number => {
    // Independent of the solver's own book-keeping: vector areas summed here.
    let sum = 0;
    for (let t = 0; t < g.triangles.length; t += 3) {
      const [a, b, c] = [0, 1, 2].map((k) =>
        s.positions.subarray(3 * g.triangles[t + k], 3 * g.triangles[t + k] + 3),
      );
      const x = (b[1] - a[1]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[1] - a[1]);
      const y = (b[2] - a[2]) * (c[0] - a[0]) - (b[0] - a[0]) * (c[2] - a[2]);
      const z = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
      sum += 0.5 * Math.hypot(x, y, z) * s.thickness_m[t / 3];
    }
    return sum;
  };
  const end = steps[steps.length - 1];
  expect(-end.positions[3 * g.id(0, 0) + 2]).toBeGreaterThan(0.01); // it really moved
  expect(Math.abs(volume(end) / volume(steps[0]) - 1)).toBeLessThan(1e-3);
});
