import { describe, expect, test } from 'vitest';
import { grid, sphere } from '../../../test/meshes.ts';
import { planeThroughAxis, sectionOf } from './cut.ts';
import { boundaryLoops, sheetFaults } from './edges.ts';
import { verticalExtent, widestLevel } from './extent.ts';
import type { WallMesh } from './mesh.ts';
import { sheetMass } from './sheet-mass.ts';
import { solidOf } from './solid.ts';
import { enclosedVolume, liquidVolume } from './volume.ts';

/** Exact solutions: school geometry and Pappus–Guldinus; a mesh of flat triangles comes near them as h². */

const walled = (
  mesh: { positions: Float64Array; triangles: Uint32Array },
  thickness: (x: number, y: number, z: number) => number,
): WallMesh => ({
  ...mesh,
  thickness_m: Float64Array.from({ length: mesh.positions.length / 3 }, (_, n) =>
    thickness(mesh.positions[3 * n], mesh.positions[3 * n + 1], mesh.positions[3 * n + 2]),
  ),
});

/** A ring of radius R, tube radius r, closed both ways. */
const torus = (n: number, R: number, r: number): WallMesh => {
  const [columns, rows] = [2 * n, n];
  const positions = new Float64Array(3 * columns * rows);
  for (let i = 0; i < columns; i++)
    for (let j = 0; j < rows; j++) {
      const [u, v] = [(2 * Math.PI * i) / columns, (2 * Math.PI * j) / rows];
      const d = R + r * Math.cos(v);
      positions.set([d * Math.cos(u), d * Math.sin(u), r * Math.sin(v)], 3 * (i * rows + j));
    }
  const triangles: number[] = [];
  const id = (i: number, j: number) => (i % columns) * rows + (j % rows);
  for (let i = 0; i < columns; i++)
    for (let j = 0; j < rows; j++)
      triangles.push(id(i, j), id(i + 1, j), id(i + 1, j + 1), id(i, j), id(i + 1, j + 1), id(i, j + 1));
  return walled({ positions, triangles: Uint32Array.from(triangles) }, () => 0.01);
};

/** Open tube or cone of radii r0 at z = 0 and r1 at z = height. */
const cone = (n: number, r0: number, r1: number, height: number) =>
  grid(
    n,
    Math.max(2, n >> 1),
    (u, v) => {
      const r = r0 + (r1 - r0) * v;
      return [r * Math.cos(2 * Math.PI * u), r * Math.sin(2 * Math.PI * u), height * v];
    },
    true,
  );

/** Error against an exact value at three refinements → measured order of convergence. */
const order = (value: (n: number) => number, exact: number, n: number): number =>
  Math.log2((value(n) - exact) / (value(2 * n) - exact));

describe('area and volume', () => {
  test('sphere: 4πr² and 4πr³/3, second order', () => {
    const area = (n: number) => sheetMass(walled(sphere(n, 0.1), () => 0.003)).area_m2;
    expect(area(32)).toBeCloseTo(4 * Math.PI * 0.01, 3);
    expect(order(area, 4 * Math.PI * 0.01, 16)).toBeCloseTo(2, 1);
    const volume = (n: number) => enclosedVolume(sphere(n, 0.1));
    expect(order(volume, (4 / 3) * Math.PI * 0.001, 16)).toBeCloseTo(2, 1);
  });
  test('torus: area 4π²Rr and volume 2π²Rr² (Pappus–Guldinus), second order', () => {
    const [R, r] = [0.1, 0.03];
    expect(order((n) => sheetMass(torus(n, R, r)).area_m2, 4 * Math.PI ** 2 * R * r, 24)).toBeCloseTo(2, 1);
    expect(order((n) => enclosedVolume(torus(n, R, r)), 2 * Math.PI ** 2 * R * r * r, 24)).toBeCloseTo(2, 1);
  });
  test('cone: mantle π(r0 + r1)·slant, second order', () => {
    const mantle = Math.PI * (0.08 + 0.03) * Math.hypot(0.05, 0.12);
    const area = (n: number) => sheetMass(walled(cone(n, 0.08, 0.03, 0.12), () => 0.003)).area_m2;
    expect(order(area, mantle, 24)).toBeCloseTo(2, 1);
  });
  test('centre of a conical mantle lies a third of its height above the base', () => {
    const mass = sheetMass(walled(cone(96, 0.08, 1e-9, 0.12), () => 0.003));
    expect(mass.centre_m[2]).toBeCloseTo(0.04, 6);
    expect(mass.centre_m[0]).toBeCloseTo(0, 9);
  });
  test('a wall thickening linearly from 0 on a flat square: volume t·a²/2, centre at 2/3', () => {
    const square = grid(4, 4, (u, v) => [u, v, 0]);
    const mass = sheetMass(walled(square, (x) => 0.01 * x));
    expect(mass.volume_m3).toBeCloseTo(0.005, 12);
    expect(mass.centre_m[0]).toBeCloseTo(2 / 3, 12);
    expect(mass.centre_m[1]).toBeCloseTo(1 / 2, 12);
  });
});

describe('the wall as a solid', () => {
  test('hollow sphere: 4π(r²t + t³/12) = difference of two balls, second order', () => {
    const exact = (4 / 3) * Math.PI * (0.102 ** 3 - 0.098 ** 3);
    const solid = (n: number) => enclosedVolume(solidOf(walled(sphere(n, 0.1), () => 0.004)));
    expect(solid(32) / exact).toBeCloseTo(1, 2);
    expect(order(solid, exact, 16)).toBeCloseTo(2, 1);
  });
  test('tube: closed at both rims, π(R² - r²)·height', () => {
    const wall = walled(cone(128, 0.04, 0.04, 0.1), () => 0.003);
    const solid = solidOf(wall);
    expect(boundaryLoops(wall.triangles, wall.thickness_m.length)).toHaveLength(2);
    expect(boundaryLoops(solid.triangles, solid.positions.length / 3)).toEqual([]);
    expect(sheetFaults(solid.triangles, solid.positions.length / 3)).toEqual({
      doubledEdges: 0,
      looseNodes: 0,
      pinchedNodes: 0,
      flatTriangles: 0,
    });
    const exact = Math.PI * (0.0415 ** 2 - 0.0385 ** 2) * 0.1;
    expect(enclosedVolume(solid) / exact).toBeCloseTo(1, 3);
  });
});

describe('what it holds', () => {
  test('a cone on its tip, filled to level z: πr²z/3 with r = z·tan', () => {
    const mesh = cone(256, 1e-9, 0.05, 0.1);
    for (const level of [0.1, 0.07, 0.031]) {
      const r = level * 0.5;
      const held = liquidVolume(mesh.positions, mesh.triangles, level, [mesh.id(0, 0)]);
      expect(held / ((Math.PI * r * r * level) / 3)).toBeCloseTo(1, 3);
    }
  });
  test('a ball filled to half holds 2πr³/3, the wall above overhanging or not', () => {
    const ball = sphere(48, 0.05);
    const low = Array.from({ length: ball.positions.length / 3 }, (_, n) => n).find(
      (n) => ball.positions[3 * n + 2] < -0.0499,
    ) as number;
    const half = liquidVolume(ball.positions, ball.triangles, 0, [low]);
    const full = liquidVolume(ball.positions, ball.triangles, 1, [low]);
    expect(half / ((2 / 3) * Math.PI * 0.05 ** 3)).toBeCloseTo(1, 2);
    expect(full / half).toBeCloseTo(2, 9);
  });
  test('a part below the level that the seed does not reach holds nothing', () => {
    const two = grid(2, 20, (u, v) => [u * 0.01, v * 0.1, Math.cos(4 * Math.PI * v) * 0.01]);
    // Two troughs side by side; only the one with the seed counts.
    const all = liquidVolume(two.positions, two.triangles, 0, [two.id(0, 5), two.id(0, 15)]);
    const one = liquidVolume(two.positions, two.triangles, 0, [two.id(0, 5)]);
    expect(Math.abs(one / all)).toBeCloseTo(0.5, 6);
  });
});

describe('extents', () => {
  test('a turned ellipse is as wide as its long axis', () => {
    const turned = grid(
      400,
      1,
      (u, v) => {
        const [x, y] = [0.09 * Math.cos(2 * Math.PI * u), 0.05 * Math.sin(2 * Math.PI * u)];
        return [x * Math.cos(0.7) - y * Math.sin(0.7), x * Math.sin(0.7) + y * Math.cos(0.7), 0.2 * v - 0.05];
      },
      true,
    );
    expect(widestLevel(turned.positions)).toBeCloseTo(0.18, 6);
    const { low, high } = verticalExtent(turned.positions);
    expect([low, high]).toEqual([-0.05, expect.closeTo(0.15, 12)]);
  });
});

describe('cuts', () => {
  const wall = walled(cone(180, 0.04, 0.04, 0.1), () => 0.003);
  test('through the axis: two straight runs, as thick as the wall', () => {
    const lines = sectionOf(wall, ...planeThroughAxis(0.3));
    expect(lines.map((l) => l.closed)).toEqual([false, false]);
    for (const line of lines)
      for (let i = 0; i < line.thickness_m.length; i++) {
        expect(Math.hypot(line.points[3 * i], line.points[3 * i + 1])).toBeCloseTo(0.04, 4);
        expect(2 * Math.hypot(line.half[3 * i], line.half[3 * i + 1], line.half[3 * i + 2])).toBeCloseTo(
          0.003,
          5,
        );
      }
  });
  test('level: one closed circle of 2πr', () => {
    const [ring, ...others] = sectionOf(wall, [0, 0, 0.033], [0, 0, 1]);
    expect(others).toEqual([]);
    expect(ring.closed).toBe(true);
    let way = 0;
    const n = ring.thickness_m.length;
    for (let i = 0; i < n; i++) {
      const [a, b] = [3 * i, 3 * ((i + 1) % n)];
      way += Math.hypot(ring.points[b] - ring.points[a], ring.points[b + 1] - ring.points[a + 1]);
    }
    expect(way).toBeCloseTo(2 * Math.PI * 0.04, 4);
  });
  test('beside the axis: the plane meets the wall aslant and shows it thicker, t / cos', () => {
    const off = 0.04 * Math.sin(Math.PI / 6);
    const lines = sectionOf(wall, [0, off, 0], [0, 1, 0]);
    const half = Math.hypot(lines[0].half[0], lines[0].half[1], lines[0].half[2]);
    expect(2 * half).toBeCloseTo(0.003 / Math.cos(Math.PI / 6), 4);
  });
  test('a piece on its side, cut across: each point names its edge', () => {
    const side = walled({ ...wall, positions: wall.positions.slice() }, () => 0.003);
    for (let n = 0; n < side.positions.length; n += 3)
      side.positions.set([wall.positions[n + 2], wall.positions[n], wall.positions[n + 1]], n);
    const [ring] = sectionOf(side, [0.05, 0, 0], [1, 0, 0]);
    expect(ring.closed).toBe(true);
    const at = (x: Float64Array, i: number) => {
      const [a, b] = [3 * ring.from[i], 3 * ring.to[i]];
      return x[a] + ring.share[i] * (x[b] - x[a]);
    };
    for (let i = 0; i < ring.share.length; i++) expect(at(side.positions, i)).toBeCloseTo(0.05, 8);
  });
});

test('sheet faults are found: a doubled triangle, a loose node, two sheets in one point', () => {
  expect(sheetFaults(Uint32Array.of(0, 1, 2, 0, 1, 2), 4)).toMatchObject({ doubledEdges: 3, looseNodes: 1 });
  expect(sheetFaults(Uint32Array.of(0, 1, 2, 0, 3, 4), 5)).toMatchObject({
    pinchedNodes: 1,
    doubledEdges: 0,
  });
  expect(sheetFaults(Uint32Array.of(0, 1, 1), 2)).toMatchObject({ flatTriangles: 1 });
});
