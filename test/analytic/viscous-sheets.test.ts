import { describe, expect, test } from 'vitest';
import { type CreepProblem, type CreepStep, creep } from '../../src/kernel/shell/creep.ts';
import { positionsAt } from '../../src/kernel/shell/film.ts';
import { type Grid, grid, hold, type Point, symmetry } from '../meshes.ts';

/**
 * Creeping sheets that stretch and sag far, against solutions of the thin-sheet equations (C. Batty et al., "Discrete
 * viscous sheets", ACM Trans. Graph. 31(4) (2012) 113, tests its sheets likewise; N. M. Ribe, J. Fluid Mech. 457 (2002)
 * 255-283). The formulae are derived at each test.
 */
const [RHO, G] = [2400, 9.81];

const run = (
  p: Pick<CreepProblem, 'positions' | 'triangles' | 'held' | 'viscosity_Pa_s' | 'duration_s'>,
  wall_m: number,
  tolerance_m: number,
): CreepStep[] => {
  const steps: CreepStep[] = [];
  const g = creep(
    {
      ...p,
      density_kg_m3: RHO,
      gravity_m_s2: G,
      shelf: 'none',
      thickness_m: new Float64Array(p.triangles.length / 3).fill(wall_m),
    },
    { tolerance_m },
  );
  for (let r = g.next(); ; r = g.next()) {
    if (r.done) {
      expect(r.value.kind).toBe('time is up');
      return steps;
    }
    steps.push(r.value);
  }
};

describe('a sheet hanging by its top edge stretches under its own weight', () => {
  // A slice carries what hangs below it and thins as it stretches: λ' = λ² ρ g s/μ, s the length that hung below it at
  // first, μ = 3η (narrow strip, free to draw in) or 4η (wide sheet), so 1/λ = 1 - ρ g s t/μ: exact at any stretch while
  // the strip stays slender. (Uniaxial and plane-strain viscosities: F. T. Trouton, Proc. R. Soc. A 77 (1906).)
  const [L, h, eta] = [0.1, 0.002, 1e6];
  const hanging = (n: number, m: number, width: number, wide: boolean) => {
    const g = grid(n, m, (u, v): Point => [width * (u - 0.5), 0, -L * v]);
    const held = new Uint8Array(6 * g.nodes);
    for (let i = 0; i <= n; i++)
      for (let j = 0; j <= m; j++) {
        hold(held, g.id(i, j), [1, 3]);
        if (wide || 2 * i === n) hold(held, g.id(i, j), [0]);
        if (j === 0) hold(held, g.id(i, j), [2, 4]); // as at a plane of symmetry: no turning in its own plane
      }
    const mu = (wide ? 4 : 3) * eta;
    const end = (0.5 * mu) / (RHO * G * L);
    return { g, mu, end, steps: run({ ...g, held, viscosity_Pa_s: eta, duration_s: end }, h, 2e-6) };
  };
  /** ∫ λ ds from the free end up to s. */
  const length = (s: number, t: number, mu: number): number =>
    (-mu / (RHO * G * t)) * Math.log(1 - (RHO * G * s * t) / mu);

  test.each([
    ['wide sheet', true],
    ['narrow strip', false],
  ] as const)(
    '%s: the length within half a per cent of the gain until the top is stretched to twice',
    (_what, wide) => {
      const { g, mu, end, steps } = hanging(2, 40, 0.004, wide);
      for (const part of [0.25, 0.5, 0.75, 1]) {
        const t = part * end;
        const z = positionsAt(steps, t);
        for (const j of [20, 40]) {
          const exact = length(L, t, mu) - length(L * (1 - j / 40), t, mu);
          const ours = -z[3 * g.id(1, j) + 2];
          const first = (L * j) / 40;
          expect(Math.abs((ours - first) / (exact - first) - 1)).toBeLessThan(0.005);
        }
      }
    },
  );

  test('wide sheet: the wall thins to 1/λ, half of it at the top, within 1 % (mean of each row)', () => {
    const { g, mu, end, steps } = hanging(2, 40, 0.004, true);
    const wall = steps[steps.length - 1].thickness_m;
    const rowOf = (t: number) =>
      Math.min(...Array.from(g.triangles.subarray(3 * t, 3 * t + 3), (n) => n % 41));
    for (const j of [0, 10, 20, 30]) {
      const row = Array.from(wall).filter((_, t) => rowOf(t) === j);
      const mean = row.reduce((a, x) => a + x, 0) / row.length;
      const s = L * (1 - (j + 0.5) / 40);
      expect(Math.abs(mean / (h * (1 - (RHO * G * s * end) / mu)) - 1)).toBeLessThan(0.01);
    }
    expect(wall[0] / h).toBeLessThan(0.52);
  });
});

/**
 * Wide sheet between two hinges (the viscous catenary: J. Teichman, L. Mahadevan, J. Fluid Mech. 478 (2003) 71-80), sag
 * small against the span but not against the wall: D w''''_t - T w'' = ρ g h with D = η h³/3 and the tension of the
 * stretching, T = 4 η h d/dt (1/2L ∫ w'²). In sines w = Σ a_n sin(nπx/L), odd n, k = nπ/L:
 * D k⁴ a' + T k² a = 4 ρ g h/(nπ), T = 2 η h Σ k² a a'. Solved for T at each moment, stepped by Runge-Kutta.
 */
const catenary = (L: number, h: number, eta: number, times: readonly number[]): number[] => {
  const modes = [1, 3, 5, 7, 9, 11, 13];
  const k = modes.map((n) => (n * Math.PI) / L);
  const load = modes.map((n) => (4 * RHO * G * h) / (n * Math.PI));
  const D = (eta * h ** 3) / 3;
  const speeds = (a: readonly number[]): number[] => {
    // a' = (f - T k² a)/(D k⁴) put into T = 2 η h Σ k² a a'.
    let free = 0;
    let back = 0;
    a.forEach((x, i) => {
      free += (x * load[i]) / (D * k[i] ** 2);
      back += (x * x) / D;
    });
    const T = (2 * eta * h * free) / (1 + 2 * eta * h * back);
    return a.map((x, i) => (load[i] - T * k[i] ** 2 * x) / (D * k[i] ** 4));
  };
  const plus = (a: readonly number[], b: readonly number[], s: number) => a.map((x, i) => x + s * b[i]);
  let a = modes.map(() => 0);
  let t = 0;
  return times.map((end) => {
    const steps = 4000;
    const dt = (end - t) / steps;
    for (let i = 0; i < steps; i++) {
      const s1 = speeds(a);
      const s2 = speeds(plus(a, s1, dt / 2));
      const s3 = speeds(plus(a, s2, dt / 2));
      const s4 = speeds(plus(a, s3, dt));
      a = a.map((x, j) => x + (dt / 6) * (s1[j] + 2 * s2[j] + 2 * s3[j] + s4[j]));
    }
    t = end;
    return a.reduce((sum, x, i) => sum + x * (i % 2 ? -1 : 1), 0);
  });
};

describe('the viscous catenary: a wide sheet between two hinges that do not give', () => {
  const [L, h, eta] = [0.2, 0.001, 1e9];
  const spanning = (n: number, clamped: boolean): { g: Grid; held: Uint8Array } => {
    const g = grid(n, 1, (u, v): Point => [0.5 * L * u, (0.5 * L * v) / n, 0]);
    const held = new Uint8Array(6 * g.nodes);
    for (let i = 0; i <= n; i++)
      for (const j of [0, 1]) {
        hold(held, g.id(i, j), symmetry.y);
        if (i === 0) hold(held, g.id(i, j), symmetry.x);
        if (i === n) hold(held, g.id(i, j), clamped ? [0, 1, 2, 3, 4, 5] : [0, 2]);
      }
    return { g, held };
  };
  /** When bending would have sagged it by one wall. */
  const unit = h / ((5 * RHO * G * L ** 4) / (128 * eta * h ** 2));

  test('the solution starts as a bent strip and ends as a stretched one, sag³ = 9 ρ g L⁴ t/(512 η)', () => {
    // Stretching alone: a parabola of sag w carries ρ g h L²/8w and stretches at (16/3) w w'/L² = T/(4 η h).
    // (That the fall grows as t^(1/3): F. Brochard-Wyart, P.-G. de Gennes 2007.)
    const early = catenary(L, h, eta, [0.01 * unit])[0];
    expect(early / (0.01 * h)).toBeCloseTo(1, 2);
    const late = 3e4 * unit;
    const [w] = catenary(L, h, eta, [late]);
    expect(w / Math.cbrt((9 * RHO * G * L ** 4 * late) / (512 * eta))).toBeCloseTo(1, 1);
  });

  test('from bending into stretching, sag 0.26 to 3.5 walls: within 0.3 %', () => {
    // Measured: off by at most 0.23 %, at the fourth. (With a first step as long as the wall is thick, 1.2 % there.)
    const times = [0.3, 1, 3, 10, 30, 100].map((x) => x * unit);
    const exact = catenary(L, h, eta, times);
    expect(exact[0] / h).toBeLessThan(0.4);
    expect(exact[5] / h).toBeGreaterThan(3);
    const { g, held } = spanning(48, false);
    times.forEach((t, i) => {
      const steps = run({ ...g, held, viscosity_Pa_s: eta, duration_s: t }, h, 1e-7);
      const sag = -steps[steps.length - 1].positions[3 * g.id(0, 0) + 2];
      expect(Math.abs(sag / exact[i] - 1)).toBeLessThan(0.003);
    });
  });

  test('with clamped ends it starts down at ρ g L⁴/(128 η h²), within 0.5 %', () => {
    // q L⁴/(384 D) with D = η h³/3: check-values 1.1 with 4η for 3η.
    const { g, held } = spanning(48, true);
    const first = run({ ...g, held, viscosity_Pa_s: eta, duration_s: 1 }, h, 1e-7)[0];
    const speed = -first.rates[6 * g.id(0, 0) + 2];
    expect(Math.abs(speed / ((RHO * G * L ** 4) / (128 * eta * h ** 2)) - 1)).toBeLessThan(0.005);
  });
});

test('narrow bar clamped at one end: the tip starts down at ρ g L⁴/(2 η h²), within 0.5 %', () => {
  // check-values 1.1: q L⁴/(8 E I) with E = 3η; 4.7088e-6 m/s for the numbers there.
  const [L, h, eta] = [0.1, 0.005, 1e10];
  const n = 48;
  const g = grid(n, 2, (u, v): Point => [L * u, 0.006 * (v - 0.5), 0]);
  const held = new Uint8Array(6 * g.nodes);
  // A narrow bar is free to curl across its width, at its root too.
  for (let j = 0; j <= 2; j++) hold(held, g.id(0, j), j === 1 ? [0, 1, 2, 3, 4, 5] : [0, 4]);
  const first = run({ ...g, held, viscosity_Pa_s: eta, duration_s: 1 }, h, 1e-7)[0];
  const speed = -first.rates[6 * g.id(n, 1) + 2];
  expect(Math.abs(speed / 4.7088e-6 - 1)).toBeLessThan(0.005);
});
