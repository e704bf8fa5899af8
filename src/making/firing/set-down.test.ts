import { expect, test } from 'vitest';
import { grid, type Point } from '../../../test/meshes.ts';
import { setDown, turnBack } from './set-down.ts';
import { Setting } from './setting.ts';

/** A closed ring of n corners, extruded along z: a prism-shaped tube. */
const prism = (n: number, radius: (angle: number) => number, height: number) => {
  const g = grid(
    n,
    6,
    (u, v): Point => {
      const a = 2 * Math.PI * u;
      return [radius(a) * Math.cos(a), radius(a) * Math.sin(a), height * v];
    },
    true,
  );
  return { ...g, thickness_m: new Float64Array(g.nodes).fill(1e-4) };
};
const side = (turn_deg: number): Setting => Setting.parse({ attitude: 'on its side', turn_deg });

test('a square tube laid on a corner rolls by 45° on to a face (plane geometry)', () => {
  const d = setDown(
    prism(4, () => 0.05, 0.2),
    side(0),
  );
  expect(d.steady).toBe(true);
  expect((d.rolled_rad * 180) / Math.PI).toBeCloseTo(45, 0);
  // Its weight is half the face away from either edge.
  expect(d.footing_m).toBeCloseTo(0.05 / Math.SQRT2, 3);
});

test('a square tube laid on a face stays', () => {
  const d = setDown(
    prism(4, () => 0.05, 0.2),
    side(45),
  );
  expect(d.steady).toBe(true);
  expect(d.turned_rad).toBeLessThan(1e-6);
});

test('a cone laid on its side rests on its flank: its axis rises by the half angle of the cone', () => {
  const [bottom, top, height] = [0.05, 0.02, 0.12];
  const g = grid(
    48,
    8,
    (u, v): Point => {
      const r = bottom + (top - bottom) * v;
      return [r * Math.cos(2 * Math.PI * u), r * Math.sin(2 * Math.PI * u), height * v];
    },
    true,
  );
  const d = setDown({ ...g, thickness_m: new Float64Array(g.nodes).fill(1e-4) }, side(0));
  expect(d.steady).toBe(true);
  // The axis (image of z) points down towards the narrow end by atan(Δr / height), within the facets' 48 corners.
  expect((Math.asin(-d.turn[8]) * 180) / Math.PI).toBeCloseTo(
    (Math.atan((bottom - top) / height) * 180) / Math.PI,
    0,
  );
});

test('turning back undoes the whole turn', () => {
  const wall = prism(5, (a) => 0.05 + 0.01 * Math.cos(2 * a), 0.1);
  const d = setDown(wall, side(20));
  const back = turnBack(d.positions, d.turn);
  // Up to a shift: compare differences from the first node.
  for (let i = 3; i < back.length; i++)
    expect(Math.abs(back[i] - back[i % 3] - (wall.positions[i] - wall.positions[i % 3]))).toBeLessThan(1e-12);
});
