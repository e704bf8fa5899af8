import { expect, test } from 'vitest';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { cutSection } from './section.ts';

/** An open upright tube, n sides, outward triangles: geometry known by hand. */
const tube = (radius_m: number, height_m: number, wall_m: number, sides: number): WallMesh => {
  const positions: number[] = [];
  for (const z of [0, height_m])
    for (let i = 0; i < sides; i++) {
      const angle = (2 * Math.PI * i) / sides;
      positions.push(radius_m * Math.cos(angle), radius_m * Math.sin(angle), z);
    }
  const triangles: number[] = [];
  for (let i = 0; i < sides; i++) {
    const j = (i + 1) % sides;
    triangles.push(i, j, sides + j, i, sides + j, sides + i);
  }
  return {
    positions: Float64Array.from(positions),
    triangles: Uint32Array.from(triangles),
    thickness_m: new Float64Array(2 * sides).fill(wall_m),
  };
};

const mesh = tube(0.04, 0.1, 0.004, 200);
const heights = Float64Array.from({ length: 400 }, (_, i) => mesh.positions[3 * i + 2]);

test('a plane through the axis of a tube cuts two upright walls, one radius each side, of full thickness', () => {
  const lines = cutSection(mesh, heights, { x0_m: 0, y0_m: 0, along_rad: 0.3 });
  expect(lines).toHaveLength(2);
  for (const line of lines)
    for (const point of line) {
      expect(Math.abs(point.u_m)).toBeCloseTo(0.04, 4);
      expect(Math.hypot(point.halfU_m, point.halfZ_m)).toBeCloseTo(0.002, 5);
      expect(Math.sign(point.halfU_m)).toBe(Math.sign(point.u_m)); // outwards
      expect(point.value).toBeCloseTo(point.z_m, 12); // what is carried along is interpolated
    }
});

test('half a radius off the axis the chord is r √3, and the slanted cut sees the wall 1/cos 30° too thick', () => {
  const lines = cutSection(mesh, heights, { x0_m: 0, y0_m: 0.02, along_rad: 0 });
  expect(lines).toHaveLength(2);
  for (const point of lines.flat()) {
    expect(Math.abs(point.u_m)).toBeCloseTo((0.04 * Math.sqrt(3)) / 2, 4);
    expect(Math.hypot(point.halfU_m, point.halfZ_m)).toBeCloseTo(0.002 / Math.cos(Math.PI / 6), 4);
  }
});

test('a tube lying on its side, cut across, is one closed ring', () => {
  const lying: WallMesh = {
    ...mesh,
    positions: mesh.positions.map((_, i) => mesh.positions[3 * Math.floor(i / 3) + ((i + 2) % 3)]),
  };
  const lines = cutSection(lying, heights, { x0_m: 0.05, y0_m: 0, along_rad: Math.PI / 2 });
  expect(lines).toHaveLength(1);
  expect(lines[0].at(0)).toEqual(lines[0].at(-1));
  for (const point of lines[0]) expect(Math.hypot(point.u_m, point.z_m)).toBeCloseTo(0.04, 4);
});
