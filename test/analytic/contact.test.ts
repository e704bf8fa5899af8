import { expect, test } from 'vitest';
import { type CreepEnd, type CreepProblem, type CreepStep, creep } from '../../src/kernel/shell/creep.ts';
import type { Obstacle } from '../../src/kernel/shell/obstacle.ts';
import { powerBalance } from '../../src/kernel/shell/power.ts';
import { grid, hold, type Point, symmetry } from '../meshes.ts';

/** Contact and friction against statics and the exact one-dimensional solutions of Coulomb's law. */
const RHO = 2400;
const G = 9.81;

const film = (
  p: Omit<CreepProblem, 'density_kg_m3' | 'gravity_m_s2' | 'held'> & Partial<CreepProblem>,
): CreepStep[] => {
  const steps: CreepStep[] = [];
  const g = creep({ density_kg_m3: RHO, gravity_m_s2: G, held: new Uint8Array(0), ...p });
  for (let r = g.next(); ; r = g.next()) {
    if (r.done) {
      expect(r.value.kind).toBe('time is up');
      return steps;
    }
    steps.push(r.value);
  }
};

const summed = (s: CreepStep, c: number): number =>
  s.contactForce_N.reduce((a, f, i) => (i % 3 === c ? a + f : a), 0);

/**
 * A flat bar lying on the shelf along x, its middle at the origin; a thread, because the width adds sliding across that
 * Coulomb's law in one dimension knows nothing of (measured at 6 mm: 1.1 and 6 % less).
 */
const bar = (L: number, w: number, h: number) => {
  const n = 40;
  const g = grid(n, 2, (u, v): Point => [L * (u - 0.5), w * (v - 0.5), h / 2]);
  const weight_N = RHO * G * L * w * h;
  return { ...g, thickness_m: new Float64Array(g.triangles.length / 3).fill(h), n, weight_N };
};

test('a bar on a rough shelf that runs out under both halves: pulled as friction says, within 0.5 %', () => {
  // Exact: friction mu·w on each length pulls outward, the pull at x is mu·w·(L/2 - |x|), the ends part at
  // 2·∫ mu·w·(L/2 - x)/(3 eta A) dx = mu·rho·g·L²/(12 eta) (Coulomb's law and uniaxial creep, elementary).
  const [L, w, h, eta, mu] = [0.1, 0.0003, 0.005, 1e9, 0.4];
  const b = bar(L, w, h);
  const exact = (mu * RHO * G * L * L) / (12 * eta);
  const [s] = film({
    ...b,
    viscosity_Pa_s: eta,
    shelf: 'slides',
    friction: mu,
    shrinkRateAt: () => -1e-3, // far faster than the bar can follow
    duration_s: 1,
  }).slice(-1);
  const parting = s.rates[6 * b.id(b.n, 1)] - s.rates[6 * b.id(0, 1)];
  expect(Math.abs(parting / exact - 1)).toBeLessThan(0.005);
  expect(Math.abs(powerBalance(s.powers))).toBeLessThan(1e-3);
});

test('a bar whose middle sticks to the running shelf: the length that slips is 3 eta s / (mu rho g), within 1 %', () => {
  // Exact: where it sticks it is drawn out at the shelf's rate s, so the pull is 3 eta A s; it slips over the end length l
  // with mu·rho·g·A·l = 3 eta A s. The end then moves at s·(L/2 - l) + s·l/2.
  const [L, w, h, eta, mu] = [0.1, 0.0003, 0.005, 1e9, 0.4];
  const b = bar(L, w, h);
  const l = 0.03;
  const rate = (mu * RHO * G * l) / (3 * eta);
  const [s] = film({
    ...b,
    viscosity_Pa_s: eta,
    shelf: 'slides',
    friction: mu,
    shrinkRateAt: () => -rate,
    duration_s: 1,
  }).slice(-1);
  const end = 0.5 * (s.rates[6 * b.id(b.n, 1)] - s.rates[6 * b.id(0, 1)]);
  expect(Math.abs(end / (rate * (L / 2 - l / 2)) - 1)).toBeLessThan(0.01);
  // At a quarter of the length it sticks.
  const inside = s.rates[6 * b.id((b.n * 5) / 8, 1)];
  expect(Math.abs(inside / (rate * (L / 8)) - 1)).toBeLessThan(0.005);
});

/** A flat floor through the origin, turned about y by an angle. */
const slope =
  (angle: number): Obstacle =>
  (x, _y, z, _t, out) => {
    out[0] = -Math.sin(angle);
    out[1] = 0;
    out[2] = Math.cos(angle);
    out[3] = x * out[0] + z * out[2];
  };

test('a plate on a slope of 20 degrees, friction 0.5: stays, and the slope bears it along and across as statics says', () => {
  const a = (20 * Math.PI) / 180;
  const [L, w, h] = [0.06, 0.04, 0.005];
  const [c, s] = [Math.cos(a), Math.sin(a)];
  const g = grid(12, 8, (u, v): Point => {
    const t = L * (u - 0.5);
    return [t * c - (h / 2) * s, w * (v - 0.5), t * s + (h / 2) * c];
  });
  const weight = RHO * G * L * w * h;
  const steps = film({
    ...g,
    thickness_m: new Float64Array(g.triangles.length / 3).fill(h),
    viscosity_Pa_s: 1e8,
    shelf: 'none',
    obstacles: [slope(a)],
    friction: 0.5,
    duration_s: 100,
  });
  const end = steps[steps.length - 1];
  const push = end.push_N.reduce((x, y) => x + y, 0);
  expect(Math.abs(push / (weight * c) - 1)).toBeLessThan(1e-3);
  expect(Math.abs(summed(end, 2) / weight - 1)).toBeLessThan(1e-3);
  expect(Math.abs(summed(end, 0)) / weight).toBeLessThan(1e-3);
  // It creeps by less than a thousandth of what the plate sinks and spreads in the same time.
  expect(Math.abs(end.positions[0] - steps[0].positions[0])).toBeLessThan(1e-4);
});

test('a tube in a V of two planes at 45 degrees without friction: each bears W/√2', () => {
  const [R, h, len] = [0.03, 0.004, 0.03];
  const mid = (R + h / 2) * Math.SQRT2;
  const g = grid(
    64,
    6,
    (u, v): Point => [R * Math.sin(2 * Math.PI * u), len * v, mid - R * Math.cos(2 * Math.PI * u)],
    true,
  );
  const thickness_m = new Float64Array(g.triangles.length / 3).fill(h);
  const steps = film({
    ...g,
    thickness_m,
    viscosity_Pa_s: 5e8,
    shelf: 'none',
    obstacles: [slope(Math.PI / 4), slope(-Math.PI / 4)],
    duration_s: 300,
  });
  for (const s of steps) {
    const weight = summed(s, 2);
    const each = [1, 2].map((k) => s.push_N.reduce((a, f, n) => (s.restsOn[n] === k ? a + f : a), 0));
    expect(Math.abs(each[0] / (weight / Math.SQRT2) - 1)).toBeLessThan(0.01);
    expect(Math.abs(each[1] / (weight / Math.SQRT2) - 1)).toBeLessThan(0.01);
    // Nothing deeper than 0.1 mm: |x| ± z against both planes, half a wall away along the wall's own slope at most.
    for (let n = 0; n < g.nodes; n++)
      if (s.restsOn[n] > 0)
        expect(
          (s.positions[3 * n + 2] - Math.abs(s.positions[3 * n])) / Math.SQRT2 - 0.5 * h,
        ).toBeGreaterThan(-2e-4);
    expect(Math.abs(powerBalance(s.powers))).toBeLessThan(0.01);
  }
});

test('a floor that rises carries the piece up at its own speed', () => {
  const g = grid(6, 6, (u, v): Point => [0.03 * (u - 0.5), 0.03 * (v - 0.5), 0.0025]);
  const speed = 1e-5;
  const steps = film({
    ...g,
    thickness_m: new Float64Array(g.triangles.length / 3).fill(0.005),
    viscosity_Pa_s: 1e9,
    shelf: 'none',
    obstacles: [
      (_x, _y, z, t, out) => {
        out[0] = out[1] = 0;
        out[2] = 1;
        out[3] = z - speed * t;
      },
    ],
    duration_s: 100,
  });
  const end = steps[steps.length - 1];
  for (let n = 0; n < g.nodes; n++)
    expect(Math.abs(end.positions[3 * n + 2] - 0.0025 - speed * 100)).toBeLessThan(2e-5);
});

test('a tube sinks on its side until its crown lies on its bottom: nothing passes, all of the weight arrives below', () => {
  const [R, h, n, m] = [0.05, 0.0025, 48, 2];
  const g = grid(
    n,
    m,
    (u, v): Point => [R * Math.sin(Math.PI * u), 0.004 * v, R + h / 2 - R * Math.cos(Math.PI * u)],
  );
  const held = new Uint8Array(6 * g.nodes);
  for (let i = 0; i <= n; i++)
    for (let j = 0; j <= m; j++) {
      hold(held, g.id(i, j), symmetry.y);
      if (i === 0 || i === n) hold(held, g.id(i, j), symmetry.x);
    }
  const run = creep({
    ...g,
    thickness_m: new Float64Array(g.triangles.length / 3).fill(h),
    density_kg_m3: RHO,
    gravity_m_s2: G,
    viscosity_Pa_s: 5e9,
    shelf: 'slides',
    held,
    duration_s: 27000,
    selfContact: true,
  });
  let end: CreepEnd | undefined;
  const steps: CreepStep[] = [];
  for (let r = run.next(); !end; r = run.next())
    if (r.done) end = r.value;
    else steps.push(r.value);
  expect(end.kind).toBe('time is up');
  expect(end.met_s).toBeGreaterThan(15000);
  expect(end.met_s).toBeLessThan(22000);
  for (const s of steps) {
    // Sections of the same ring, so the gap is that of polylines in the plane y = 0, found here point against piece.
    const at = (i: number): [number, number] => [
      s.positions[3 * g.id(i, 0)],
      s.positions[3 * g.id(i, 0) + 2],
    ];
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i <= n; i++)
      for (let k = 0; k < n; k++)
        if (Math.abs(i - k) > 10) least = Math.min(least, toPiece(at(i), at(k), at(k + 1)));
    expect(least).toBeGreaterThan(Math.min(...s.thickness_m) - 1e-4);
    const weight = RHO * G * Math.PI * R * 0.004 * h;
    expect(Math.abs(s.push_N.reduce((a, b) => a + b, 0) / weight - 1)).toBeLessThan(1e-3);
    // What the wall does to itself is nothing to the whole.
    expect(Math.abs(summed(s, 2) / weight - 1)).toBeLessThan(1e-3);
    expect(Math.abs(powerBalance(s.powers))).toBeLessThan(0.01);
  }
  const last = steps[steps.length - 1];
  expect(last.positions[3 * g.id(n, 0) + 2] - last.positions[3 * g.id(0, 0) + 2]).toBeLessThan(1.5 * h);
});

/** Distance of a point from a piece of line. */
const toPiece = (p: readonly number[], a: readonly number[], b: readonly number[]): number => {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
};

/** An upright bar with a flat top at height z and sharp edges. */
const post =
  (px: number, py: number, radius: number, top: number): Obstacle =>
  (x, y, z, _t, out) => {
    const r = Math.hypot(x - px, y - py) || 1e-12;
    const side = r - radius;
    const up = z - top;
    const [ux, uy] = [(x - px) / r, (y - py) / r];
    const away = side > 0 && up > 0 ? Math.hypot(side, up) : Math.max(side, up);
    const [a, b] = side > 0 && up > 0 ? [side / away, up / away] : side > up ? [1, 0] : [0, 1];
    out[0] = a * ux;
    out[1] = a * uy;
    out[2] = b;
    out[3] = away;
  };

test('a plate of coarse triangles on three posts between its nodes: each bears a third, none comes through', () => {
  const [L, h] = [0.08, 0.004];
  const g = grid(8, 8, (u, v): Point => [L * (u - 0.5), L * (v - 0.5), 0.02 + h / 2]);
  // Nodes stand 10 mm apart; posts 5 mm wide, about the middle at equal angles.
  const feet = [0, 1, 2].map((k) => {
    const a = (2 * Math.PI * k) / 3 + 0.3;
    return [0.0251 * Math.cos(a), 0.0251 * Math.sin(a)] as const;
  });
  const steps = film({
    ...g,
    thickness_m: new Float64Array(g.triangles.length / 3).fill(h),
    viscosity_Pa_s: 1e9,
    shelf: 'none',
    obstacles: feet.map(([x, y]) => post(x, y, 0.0025, 0.02)),
    friction: 0.4,
    duration_s: 1500,
  });
  const weight = RHO * G * L * L * h;
  for (const s of steps) {
    expect(Math.abs(summed(s, 2) / weight - 1)).toBeLessThan(1e-3);
    for (const [x, y] of feet) {
      // The posts are 43 mm apart: what acts within 20 mm of one is its.
      let bears = 0;
      for (let n = 0; n < g.nodes; n++)
        if (Math.hypot(s.positions[3 * n] - x, s.positions[3 * n + 1] - y) < 0.02)
          bears += s.contactForce_N[3 * n + 2];
      // It may touch anywhere on a post's top: 2.5 mm of the 25 mm they stand from the middle, on all three.
      expect(Math.abs(bears / (weight / 3) - 1)).toBeLessThan(0.15);
    }
  }
  const [first, last] = [steps[0], steps[steps.length - 1]];
  const sank = first.positions.reduce((m, z, i) => (i % 3 === 2 ? Math.max(m, z - last.positions[i]) : m), 0);
  expect(sank).toBeGreaterThan(5e-4); // the corners hang down
  for (const [x, y] of feet) expect(heightAt(g, last.positions, x, y) - h / 2).toBeGreaterThan(0.02 - 1e-4);
});

/** Height of a meshed sheet above a point of the plan. */
const heightAt = (g: { triangles: Uint32Array }, p: Float64Array, x: number, y: number): number => {
  for (let t = 0; t < g.triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => 3 * g.triangles[t + k]);
    const d = (p[b] - p[a]) * (p[c + 1] - p[a + 1]) - (p[c] - p[a]) * (p[b + 1] - p[a + 1]);
    const u = ((x - p[a]) * (p[c + 1] - p[a + 1]) - (p[c] - p[a]) * (y - p[a + 1])) / d;
    const v = ((p[b] - p[a]) * (y - p[a + 1]) - (x - p[a]) * (p[b + 1] - p[a + 1])) / d;
    if (u >= 0 && v >= 0 && u + v <= 1)
      return p[a + 2] + u * (p[b + 2] - p[a + 2]) + v * (p[c + 2] - p[a + 2]);
  }
  return Number.NaN;
};

test('a tube sinking between two smooth walls: pushes both alike, the shelf bears all, nothing goes through', () => {
  const [R, h, n] = [0.05, 0.0025, 64];
  const g = grid(
    n,
    2,
    (u, v): Point => [R * Math.sin(2 * Math.PI * u), 0.008 * v, R + h / 2 - R * Math.cos(2 * Math.PI * u)],
    true,
  );
  const held = new Uint8Array(6 * g.nodes);
  for (let k = 0; k < g.nodes; k++) hold(held, k, symmetry.y);
  // No rolling: top and bottom stay over each other.
  for (let j = 0; j <= 2; j++) for (const i of [0, n / 2]) hold(held, g.id(i, j), [0]);
  const gapEachSide = 0.004;
  const at = R + h / 2 + gapEachSide;
  const wall =
    (side: 1 | -1): Obstacle =>
    (x, _y, _z, _t, out) => {
      out[0] = -side;
      out[1] = out[2] = 0;
      out[3] = at - side * x;
    };
  const steps = film({
    ...g,
    held,
    thickness_m: new Float64Array(g.triangles.length / 3).fill(h),
    viscosity_Pa_s: 5e9,
    shelf: 'slides',
    obstacles: [wall(1), wall(-1)],
    duration_s: 9000,
  });
  const weight = RHO * G * 2 * Math.PI * R * 0.008 * h;
  let pushed = 0;
  for (const s of steps) {
    const side = [1, 2].map((k) => s.push_N.reduce((a, f, m) => (s.restsOn[m] === k ? a + f : a), 0));
    expect(Math.abs(side[0] - side[1])).toBeLessThan(0.02 * weight);
    pushed = Math.max(pushed, side[0]);
    expect(Math.abs(summed(s, 2) / weight - 1)).toBeLessThan(1e-3);
    for (let k = 0; k < g.nodes; k++) {
      expect(Math.abs(s.positions[3 * k]) + h / 2).toBeLessThan(at + 1.2e-4);
      expect(s.positions[3 * k + 2]).toBeGreaterThan(0);
    }
    expect(Math.abs(powerBalance(s.powers))).toBeLessThan(1e-3);
  }
  expect(pushed).toBeGreaterThan(0.1 * weight);
});
