import { expect, test } from 'vitest';
import { sphere } from '../../../test/meshes.ts';
import { type FilmStep, positionsAt, wallHolding } from './film.ts';
import { triangleAreas } from './geometry.ts';
import { rigidTurn, turnAbout } from './rigid-turn.ts';

const egg = () => {
  const { positions, triangles } = sphere(4, 0.05);
  return { positions: positions.map((x, i) => x * [1, 1.4, 0.7][i % 3]), triangles };
};

const turned = (p: Float64Array, angle: number, shift: number): Float64Array => {
  const out = new Float64Array(p.length);
  for (let n = 0; n < p.length; n += 3) {
    turnAbout([0, 0.6, 0.8], angle, [p[n], p[n + 1], p[n + 2]], out, n);
    out[n] += shift;
  }
  return out;
};

const step = (time_s: number, positions: Float64Array, triangles: Uint32Array, speed = 0): FilmStep => ({
  time_s,
  positions,
  rates: new Float64Array(2 * positions.length).fill(speed),
  thickness_m: new Float64Array(triangles.length / 3).fill(0.003),
});

test.each([0.2, 1.5, 3])('a turn of %d rad and a shift are found again (Horn 1987)', (angle) => {
  const { positions } = egg();
  const found = rigidTurn(positions, turned(positions, angle, 0.02));
  expect(found.angle_rad).toBeCloseTo(angle, 9);
  [0, 0.6, 0.8].forEach((x, c) => {
    expect(found.axis[c]).toBeCloseTo(x, 9);
  });
});

test('a piece that falls over between two steps keeps its shape on the way: areas to 1e-12', () => {
  const { positions, triangles } = egg();
  const steps = [step(0, positions, triangles), step(1, turned(positions, 1.2, 0.03), triangles)];
  const first = new Float64Array(triangles.length / 3);
  const now = new Float64Array(triangles.length / 3);
  triangleAreas(positions, triangles, first);
  for (const t of [0.2, 0.5, 0.9]) {
    triangleAreas(positionsAt(steps, t), triangles, now);
    now.forEach((a, k) => {
      expect(Math.abs(a / first[k] - 1)).toBeLessThan(1e-12);
    });
  }
});

test('speeds that have nothing to do with the way do not carry a resting node off', () => {
  const { positions, triangles } = egg();
  const steps = [step(0, positions, triangles, 5), step(1, positions, triangles, -5)];
  expect(positionsAt(steps, 0.5)).toEqual(positions);
});

test('steady motion is met exactly, and what lies between two volumes is held on the way', () => {
  const { positions, triangles } = egg();
  const grown = positions.map((x) => 1.1 * x);
  const steps = [step(0, positions, triangles), step(1, grown, triangles)];
  const half = positionsAt(steps, 0.5);
  const areas = new Float64Array(triangles.length / 3);
  triangleAreas(half, triangles, areas);
  const wall = wallHolding(steps, triangles, areas, 0.5);
  const volume = areas.reduce((sum, a, t) => sum + a * wall[t], 0);
  triangleAreas(positions, triangles, areas);
  const before = 0.003 * areas.reduce((sum, a) => sum + a, 0);
  expect(volume).toBeCloseTo((before * (1 + 1.21)) / 2, 12);
});
