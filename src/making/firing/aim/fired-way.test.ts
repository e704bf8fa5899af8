import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { grid, hold, type Point, symmetry } from '../../../../test/meshes.ts';
import { type CreepProblem, creep } from '../../../kernel/shell/creep.ts';
import { triangleAreas } from '../../../kernel/shell/geometry.ts';
import { GRAVITY_m_s2 } from '../../../units.ts';
import { parseClay } from '../../clay/clay.ts';
import type { ClayHistory } from '../../clay/clay-history.ts';
import { Setting } from '../setting.ts';
import { softDensity } from '../soften.ts';
import { backThroughFire, type FireWay, throughFire, type Went, wallsOf } from './fired-way.ts';
import { liesOf } from './lying.ts';

/** Exact solutions run backward, and backward then forward. Formulae: check-values/physics.md section 1.1. */
const clay = parseClay(
  JSON.parse(
    readFileSync(new URL('../../../../examples/studio-porcelain.clay.json', import.meta.url), 'utf8'),
  ),
);

const finish = (run: Generator<unknown, Went, void>): Went => {
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};

/** A dense body (ratio ½) whose clock runs to `clockEnd`: what the exact solutions are for. */
const dense = (clockEnd: number): ClayHistory => {
  const two = (a: number, b: number) => Float64Array.of(a, b);
  return {
    time_s: two(0, 1),
    temperature_K: two(1500, 1500),
    porosity: two(0, 0),
    linearScale: two(1, 1),
    viscosity_Pa_s: two(1, 1),
    uniaxialFactor: two(1, 1),
    poisson: two(0.5, 0.5),
    creepClock: two(0, clockEnd),
    creepClockUnshrunk: two(0, clockEnd),
  };
};

const wayFor = (
  shape: { readonly positions: Float64Array; readonly triangles: Uint32Array },
  wall_m: number,
  clockEnd: number,
): FireWay => {
  const areas = new Float64Array(shape.triangles.length / 3);
  triangleAreas(shape.positions, shape.triangles, areas);
  return {
    triangles: shape.triangles,
    volume_m3: areas.map((a) => a * wall_m),
    skinShare: new Float64Array(shape.positions.length / 3).fill(1),
    asSet: shape.positions,
    clay,
    history: dense(clockEnd),
    setting: Setting.parse({ attitude: 'upright' }),
    pins: new Uint8Array(0),
    clockEnd,
  };
};

const column = (radius: number, height: number) => {
  const [n, m] = [24, 24];
  const g = grid(
    n,
    m,
    (u, v): Point => {
      const a = 2 * Math.PI * u;
      return [radius * Math.cos(a), radius * Math.sin(a), height * v];
    },
    true,
  );
  return { ...g, m };
};

test('a straight tube wanted: the green one is as the viscous column under its own weight says, to 0.5 % of the change', () => {
  // Each slice carries W = rho g V above it on an area that grows as it shortens: dλ/dc = -k λ², k = rho g (H - z)/3 in the
  // slices of the fired tube (viscosity is in the clock). Backward from λ = 1: λ = 1/(1 - k c); radius and wall go as λ^(-½).
  const [R, H, wall] = [0.04, 0.2, 0.003];
  const shape = column(R, H);
  const a = (softDensity(clay) * GRAVITY_m_s2) / 3;
  const clockEnd = 0.2 / (a * H); // the foot was 1.25 times as tall
  const way = wayFor(shape, wall, clockEnd);
  const back = finish(backThroughFire(way, shape.positions, liesOf(way, shape.positions)));
  expect(back.whole).toBe(true);
  const height = back.positions[3 * shape.id(0, shape.m) + 2];
  const exact = -Math.log(1 - a * clockEnd * H) / (a * clockEnd);
  expect(exact / H).toBeCloseTo(1.1157, 4);
  expect(Math.abs((height - H) / (exact - H) - 1)).toBeLessThan(0.005);
  // Radius half way up. (At the very foot the wall bends in, as it may: it slides on the shelf.)
  const mid = 3 * shape.id(0, shape.m / 2);
  const radius = Math.hypot(back.positions[mid], back.positions[mid + 1]);
  const exactRadius = R * Math.sqrt(1 - (a * clockEnd * H) / 2);
  expect(Math.abs((radius - R) / (exactRadius - R) - 1)).toBeLessThan(0.02);
  // Its wall there: thinner by the same factor.
  const walls = wallsOf(way, back.positions);
  const at = way.triangles.findIndex((n) => n === shape.id(0, shape.m / 2));
  expect(walls[(at / 3) | 0] / wall).toBeCloseTo(Math.sqrt(1 - (a * clockEnd * H) / 2), 2);
});

test('the green tube, 10 mm taller, fired again is the wanted one to 0.1 mm before any correction', () => {
  // Not nil however fine the steps (40 µm): held are the middles of the wall, while what rests is its skin, and that rises and
  // sinks as the foot bends in. The passes correct it.
  const shape = column(0.04, 0.2);
  const a = (softDensity(clay) * GRAVITY_m_s2) / 3;
  const way = wayFor(shape, 0.003, 0.1 / (a * 0.2));
  const green = finish(backThroughFire(way, shape.positions, liesOf(way, shape.positions)));
  const fired = finish(throughFire(way, green.positions));
  expect(fired.whole).toBe(true);
  let [moved, off] = [0, 0];
  for (let i = 0; i < shape.positions.length; i++) {
    moved = Math.max(moved, Math.abs(green.positions[i] - shape.positions[i]));
    off = Math.max(off, Math.abs(fired.positions[i] - shape.positions[i]));
  }
  expect(moved).toBeGreaterThan(0.009);
  expect(off).toBeLessThan(1e-4);
});

/** Backward under turned gravity, then forward: largest distance from the start against the way gone. */
const thereAndBack = (p: CreepProblem, walls_m: number): { moved: number; off: number } => {
  const areas = new Float64Array(p.thickness_m.length);
  const go = (positions: Float64Array, thickness_m: Float64Array, gravity_m_s2: number) => {
    const run = creep({ ...p, positions, thickness_m, gravity_m_s2 }, { tolerance_m: 2e-6 });
    let last = { positions, thickness_m };
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) {
        expect(r.value.kind).toBe('time is up');
        return last;
      }
      last = r.value;
    }
  };
  triangleAreas(p.positions, p.triangles, areas);
  const before = go(
    p.positions,
    areas.map(() => walls_m),
    -p.gravity_m_s2,
  );
  const again = go(before.positions, before.thickness_m, p.gravity_m_s2);
  let [moved, off] = [0, 0];
  for (let i = 0; i < p.positions.length; i++) {
    moved = Math.max(moved, Math.abs(before.positions[i] - p.positions[i]));
    off = Math.max(off, Math.abs(again.positions[i] - p.positions[i]));
  }
  return { moved, off };
};

test('a bar on two edges, traced back to one bent up by three walls and let sag again, is straight to 0.3 %', () => {
  const [L, h, eta] = [0.1, 0.005, 1e10];
  const n = 16;
  const g = grid(n, 2, (u, v): Point => [0.5 * L * u, 0.004 * v, 0]);
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= 2; j++) {
      if (i === 0) hold(held, g.id(i, j), symmetry.x);
      if (i === n) hold(held, g.id(i, j), [2]);
      if (j === 0) hold(held, g.id(i, j), symmetry.y);
    }
  // 5 rho g L⁴/(96 eta h²) = 4.905e-7 m/s (check-values 1.1): so long for 15 mm if it stayed that fast.
  const { moved, off } = thereAndBack(
    {
      ...g,
      thickness_m: new Float64Array(g.triangles.length / 3).fill(h),
      density_kg_m3: 2400,
      gravity_m_s2: 9.81,
      viscosity_Pa_s: eta,
      shelf: 'none',
      held,
      duration_s: 0.015 / 4.905e-7,
    },
    h,
  );
  expect(moved).toBeGreaterThan(0.009);
  expect(off / moved).toBeLessThan(0.003);
});

test('a ring on a line, traced back by half its radius and let sink again, is round to 0.5 %', () => {
  const [R, h, eta] = [0.05, 0.0025, 5e9];
  const n = 32;
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
  // It sinks at 0.4674·3 rho g R⁴/(eta h²) (reference cases, and test/analytic).
  const speed = (0.4674 * 3 * 2400 * 9.81 * R ** 4) / (eta * h ** 2);
  const { moved, off } = thereAndBack(
    {
      ...g,
      thickness_m: new Float64Array(g.triangles.length / 3).fill(h),
      density_kg_m3: 2400,
      gravity_m_s2: 9.81,
      viscosity_Pa_s: eta,
      shelf: 'none',
      held,
      duration_s: (0.5 * R) / speed,
    },
    h,
  );
  expect(moved).toBeGreaterThan(0.015);
  expect(off / moved).toBeLessThan(0.005);
});
