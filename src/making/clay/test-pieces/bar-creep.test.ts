import { describe, expect, test } from 'vitest';
import { grid, hold, symmetry } from '../../../../test/meshes.ts';
import { type CreepStep, creep } from '../../../kernel/shell/creep.ts';
import { positionsAt } from '../../../kernel/shell/film.ts';
import { GRAVITY_m_s2 } from '../../../units.ts';
import { type BoneDryBar, barCreep } from './bar-creep.ts';

const noShrinkage = (): number => 1;
const bar = (more: Partial<BoneDryBar> = {}): BoneDryBar => ({
  held: 'over edges',
  span_m: 0.1,
  length_m: 0.1,
  thickness_m: 0.005,
  edgeRadius_m: 0,
  density_kg_m3: 2400,
  friction: 0,
  ...more,
});
/** 5 ρ g L⁴/(96 η h²) a second: a bar on two knife edges, elastic beam with 3 η for E. */
const smallSag = (b: BoneDryBar, clock: number): number =>
  ((5 * b.density_kg_m3 * GRAVITY_m_s2 * b.span_m ** 4) / (96 * b.thickness_m ** 2)) * clock;
const sag = (b: BoneDryBar, clock: number): number => barCreep(b, clock, noShrinkage)?.sag_m ?? Number.NaN;

test('small sag: 5ρgL⁴/(96ηh²), 0.4905 µm/s for 100 × 5 mm at 1e10 Pa·s (with g = 9.81), by its ends or over edges', () => {
  const clock = 100 / 1e10; // 100 s: 0.05 mm
  expect((smallSag(bar(), 1e-10) * 9.81) / GRAVITY_m_s2).toBeCloseTo(4.905e-7, 11);
  for (const held of ['by its ends', 'over edges'] as const)
    expect(sag(bar({ held, length_m: 0.1002 }), clock) / smallSag(bar(), clock)).toBeCloseTo(1, 3);
});

test('bar beyond the supports lifts the middle: 1 - 4.8 (a/L)², by superposition of the end moments', () => {
  // M0 = q a²/2 at both supports lifts the middle by M0 L²/(8 E I), against 5 q L⁴/(384 E I).
  const b = bar({ length_m: 0.13 });
  const clock = 100 / 1e10;
  expect(sag(b, clock) / smallSag(b, clock)).toBeCloseTo(1 - 4.8 * 0.15 ** 2, 3);
});

describe('large sag against two independent solid programs (reference case of the 150 × 25 × 5 mm bar)', () => {
  // Mid-line and long edge differ as the bar curls across its width, which a line does not know: it is between them, and
  // within 1 % of their mean all the way to a third of the span.
  const times = [3000, 6000, 9000, 12000, 15000, 18000];
  const mid_mm = [14.434, 26.939, 36.595, 43.516, 48.286, 51.532];
  const edge_mm = [14.672, 27.387, 37.215, 44.269, 49.139, 52.462];
  const b = bar({ held: 'by its ends', span_m: 0.15 });
  const g = 9.81 / GRAVITY_m_s2;

  test.each(times.map((t, i) => [t, mid_mm[i], edge_mm[i]]))('%i s', (t, mid, edge) => {
    const ours = 1000 * sag(b, (g * t) / 5e9);
    expect(ours).toBeGreaterThan(mid);
    expect(ours).toBeLessThan(edge * 1.002);
    expect(Math.abs(ours / ((mid + edge) / 2) - 1)).toBeLessThan(0.01);
  });

  test('the small-sag formula would be out by 22 % at a quarter of the span', () => {
    expect((1000 * smallSag(b, (g * 9000) / 5e9)) / 36.6).toBeGreaterThan(1.2);
  });
});

test('twice as fine changes nothing that counts, and a bar can slide in between its edges', () => {
  const b = bar({ length_m: 0.13, friction: 0.3 });
  const clock = 2e-6;
  const fine = barCreep(b, clock, noShrinkage, 2)?.sag_m ?? Number.NaN;
  expect(sag(b, clock)).toBeGreaterThan(0.007);
  expect(Math.abs(sag(b, clock) / fine - 1)).toBeLessThan(1e-3);
  expect(barCreep(bar({ length_m: 0.104 }), 1e-4, noShrinkage)).toBeUndefined();
});

test('a bar that shrinks before it softens is a smaller bar on the same supports', () => {
  // All shrinkage done before the clock starts: the fired bar (0.9 of every length, weight per length as mass demands).
  const L = 0.9;
  const dry = bar({ length_m: 0.14, thickness_m: 0.006, density_kg_m3: 1800 });
  const fired = bar({ length_m: 0.126, thickness_m: 0.0054, density_kg_m3: 1800 / L ** 3 });
  const clock = 1e-7;
  // The fired bar's own clock is ∫dt/η, the dry one's ∫dt/(η L²).
  const shrunk = barCreep(dry, clock / L ** 2, () => L)?.sag_m ?? Number.NaN;
  expect(shrunk / sag(fired, clock)).toBeCloseTo(1, 6);
});

test('over fixed edges, against the shell solver with contact: a narrow bar, 14 % of the span, within 1.5 %', () => {
  // Nothing in common but the load: triangles that bend, stretch and curl, pressed on two rods of 3 mm radius.
  const [n, m] = [65, 3];
  const [B, L, h, w, r] = [0.13, 0.1, 0.005, 0.015, 0.003];
  const g = grid(n, m, (u, v) => [(B / 2) * u, (w / 2) * v, h / 2]);
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= m; j++) {
      if (i === 0) hold(held, g.id(i, j), symmetry.x);
      if (j === 0) hold(held, g.id(i, j), symmetry.y);
    }
  const rod = (x: number, _y: number, z: number, _t: number, out: Float64Array): void => {
    const [dx, dz] = [x - L / 2, z + r];
    const d = Math.hypot(dx, dz);
    out.set([dx / d, 0, dz / d, d - r]);
  };
  const problem = {
    ...g,
    thickness_m: new Float64Array(g.triangles.length / 3).fill(h),
    viscosity_Pa_s: 1e10,
    density_kg_m3: 2400,
    gravity_m_s2: GRAVITY_m_s2,
    shelf: 'none' as const,
    obstacles: [rod],
    held,
    duration_s: 30000,
  };
  const steps: CreepStep[] = [...creep(problem, { tolerance_m: 1e-5 })];
  const line = bar({ span_m: L, length_m: B, edgeRadius_m: r });
  for (const t of [5000, 10000, 20000, 30000]) {
    const x = positionsAt(steps, t);
    const [mid, edge] = [0, m].map((j) => h / 2 - x[3 * g.id(0, j) + 2]);
    expect(Math.abs(sag(line, t / 1e10) / ((mid + edge) / 2) - 1)).toBeLessThan(0.015);
  }
});
