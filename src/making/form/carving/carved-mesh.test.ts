import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { boundaryLoops, sheetFaults } from '../../../kernel/mesh/edges.ts';
import { solidOf } from '../../../kernel/mesh/solid.ts';
import { enclosedVolume } from '../../../kernel/mesh/volume.ts';
import { type Form, parseForm } from '../form.ts';
import { measure } from '../measure.ts';
import { type FormMesh, meshForm } from '../mesh-form.ts';
import { countAcross } from './struts.ts';

const example = (name: string): object => JSON.parse(readFileSync(`examples/${name}.form.json`, 'utf8'));
const carved = (name: string, ...carving: object[]): Form => parseForm({ ...example(name), carving });
const cylinder = (...carving: object[]): Form => carved('small-plain-cylinder', ...carving);
const opening = (change: object): object => ({
  kind: 'opening',
  outline: { motif: 'round' },
  width_mm: 12,
  height_mm: 12,
  along: 0.5,
  ...change,
});
const meshed = (form: Form, triangles: number): FormMesh => meshForm(form, { triangles, scale: 1 });

/** Smallest angle of any triangle, degrees. */
const smallestAngle = ({ positions: p, triangles: t }: FormMesh): number => {
  let least = 180;
  const side = (a: number, b: number) => Math.hypot(...[0, 1, 2].map((k) => p[3 * a + k] - p[3 * b + k]));
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [side(t[i], t[i + 1]), side(t[i + 1], t[i + 2]), side(t[i + 2], t[i])].sort(
      (x, y) => x - y,
    );
    least = Math.min(least, (Math.acos((b * b + c * c - a * a) / (2 * b * c)) * 180) / Math.PI);
  }
  return least;
};

const edgesOf = ({ triangles: t, thickness_m }: FormMesh): number => {
  const seen = new Set<number>();
  const n = thickness_m.length;
  for (let e = 0; e < t.length; e++) {
    const [a, b] = [t[e], t[e % 3 === 2 ? e - 2 : e + 1]];
    seen.add(Math.min(a, b) * n + Math.max(a, b));
  }
  return seen.size;
};

/** One clean sheet with so many openings: every edge shared rightly, every rim one loop, and Euler's count. */
const expectSheet = (mesh: FormMesh, openings: number, tube = false): void => {
  const nodes = mesh.thickness_m.length;
  expect(Object.values(sheetFaults(mesh.triangles, nodes))).toEqual([0, 0, 0, 0]);
  expect(boundaryLoops(mesh.triangles, nodes)).toHaveLength(openings + (tube ? 2 : 1));
  // A disc has Euler characteristic 1; every opening takes one away, a tube's lower end too.
  expect(nodes - edgesOf(mesh) + mesh.triangles.length / 3).toBe(1 - openings - (tube ? 1 : 0));
  expect(mesh.positions.every(Number.isFinite)).toBe(true);
};

/** Area (mm²) inside a rim on a cylinder, unrolled: the shoelace sum of (r · angle, z). */
const rimArea = (mesh: FormMesh, rim: Uint32Array, radius_mm: number): number => {
  const at = (k: number): [number, number] => {
    const n = rim[k % rim.length];
    const turn = mesh.angle_rad[n] - mesh.angle_rad[rim[0]];
    return [
      radius_mm * (turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI))),
      1000 * mesh.positions[3 * n + 2],
    ];
  };
  let twice = 0;
  for (let k = 0; k < rim.length; k++) {
    const [[x0, y0], [x1, y1]] = [at(k), at(k + 1)];
    twice += x0 * y1 - x1 * y0;
  }
  return twice / 2;
};

describe('openings on a plain cylinder, mid-surface radius 38.5 mm', () => {
  test.each([
    ['round', { motif: 'round' }, Math.PI * 36],
    ['lozenge', { motif: 'lozenge' }, 72],
    ['slot', { motif: 'slot' }, Math.PI * 36],
    ['a drawn pentagon', { path: 'M5 0 L10 4 L8 10 L2 10 L0 4 Z' }, 144 * 0.68],
  ])('%s: area by plane geometry within 1 %%, at any fineness and turn', (_, outline, exact) => {
    for (const triangles of [800, 3000, 8000])
      for (const turn_deg of [0, 33]) {
        const mesh = meshed(cylinder(opening({ outline, count: 5, turn_deg })), triangles);
        expect(mesh.carved?.rims).toHaveLength(5);
        expectSheet(mesh, 5);
        for (const rim of mesh.carved!.rims)
          expect(Math.abs(rimArea(mesh, rim, 38.5) / exact - 1)).toBeLessThan(0.01);
      }
  });
  test('clay taken away is area times thickness, within 1 %', () => {
    const whole = measure(meshed(cylinder(), 20_000), 1).clayVolume_m3;
    const left = measure(meshed(cylinder(opening({ count: 8 })), 20_000), 1).clayVolume_m3;
    expect((whole - left) * 1e9).toBeCloseTo(8 * Math.PI * 36 * 3, -1);
    expect(Math.abs(((whole - left) * 1e9) / (8 * Math.PI * 36 * 3) - 1)).toBeLessThan(0.01);
  });
  test('an opening across angle 0 is cut like any other, and nothing is cracked there', () => {
    for (const angle_deg of [0, -7, 90, 355]) {
      const mesh = meshed(cylinder(opening({ angle_deg, width_mm: 30 })), 3000);
      expectSheet(mesh, 1);
      expect(rimArea(mesh, mesh.carved!.rims[0], 38.5)).toBeCloseTo(Math.PI * 15 * 6, 0);
    }
  });
  test('rims run counter-clockwise seen from outside, and tags name rim, lip and foot', () => {
    const mesh = meshed(cylinder(opening({ count: 3, rows: 2, along: 0.35, rowStep_mm: 22 })), 3000);
    for (const rim of mesh.carved!.rims) expect(rimArea(mesh, rim, 38.5)).toBeGreaterThan(0);
    const lip = [...mesh.lipNodes].map((n) => mesh.positions[3 * n + 2]);
    expect(Math.max(...lip) - Math.min(...lip)).toBeLessThan(1e-9);
    const rising = (nodes: Uint32Array) =>
      [...nodes].every((n, k) => k === 0 || mesh.angle_rad[n] > mesh.angle_rad[nodes[k - 1]]);
    expect([rising(mesh.lipNodes), rising(mesh.footNodes)]).toEqual([true, true]);
    expect(enclosedVolume(solidOf(mesh)) / measure(mesh, 1).clayVolume_m3).toBeCloseTo(1, 1);
  });
  test('near the lip and the floor the rings themselves are made finer: three triangles stay between', () => {
    const low = opening({ along: 0.13, count: 12, width_mm: 8, height_mm: 8 });
    const mesh = meshed(cylinder(opening({ along: 0.9, count: 12, width_mm: 8, height_mm: 8 }), low), 8000);
    expectSheet(mesh, 24);
    expect(
      countAcross(mesh.positions, mesh.triangles, [...mesh.carved!.rims, mesh.lipNodes, mesh.footEdge])
        ?.across,
    ).toBeGreaterThanOrEqual(3);
    expect(smallestAngle(mesh)).toBeGreaterThan(15);
  });
  test('it holds what stands below its lowest opening: πr²h to there', () => {
    const { capacity_m3 } = measure(meshed(cylinder(opening({ count: 6 })), 12_000), 1);
    // Middle at 45 mm up the wall's outer line, lower edge at 39, floor's top at 4 mm.
    expect((capacity_m3 * 1e9) / (Math.PI * 37 ** 2 * 35)).toBeCloseTo(1, 2);
  });
});

describe('a square of 20 mm takes 400 mm² of any wall: sizes are measured on the altered surface', () => {
  const square = opening({ width_mm: 20, height_mm: 20, outline: { path: 'M0 0h10v10h-10z' }, count: 4 });
  const line = [
    { radius_mm: 30, height_mm: 0 },
    { radius_mm: 60, height_mm: 80 },
  ];
  test.each([
    // The map keeps areas on a surface of revolution; what is left is the chords of the mesh.
    ['a cone', { ...example('small-plain-cylinder'), line }, 0.004],
    ['the lobed tube, ridge and hollow', example('lobed-tube'), 0.008],
    // Flutes with sharp ridges: cut straight where the openings are, kept on the rings of the whole one.
    ['the fluted vase', example('tall-fluted-vase'), 0.015],
    ['the bowl', example('wide-shallow-bowl'), 0.015],
  ])('%s', (_, json, within) => {
    const form = parseForm({ ...json, carving: [square] });
    const [whole, left] = [{ ...form, carving: [] }, form].map((f) => measure(meshed(f, 12_000), 1).area_m2);
    expect(Math.abs(((whole - left) * 1e6) / 1600 - 1)).toBeLessThan(within);
  });
});

describe('struts', () => {
  const form = parseForm(example('pierced-fluted-vase'));
  test.each([6000, 8000, 10_000])(
    '4 mm struts of the pierced vase have three triangles across at %i',
    (n) => {
      const mesh = meshed(form, n);
      const struts = countAcross(mesh.positions, mesh.triangles, [
        ...mesh.carved!.rims,
        mesh.lipNodes,
        mesh.footEdge,
      ])!;
      expect(struts.across).toBeGreaterThanOrEqual(3);
      expect(struts.width_m).toBeGreaterThan(0.004);
      expect(mesh.carved?.coarseStruts).toBeUndefined();
      expectSheet(mesh, 56);
      expect(smallestAngle(mesh)).toBeGreaterThan(18);
      expect(mesh.triangles.length / 3).toBeLessThan(1.45 * n);
    },
  );
  test('with too few triangles it says how coarsely they are drawn, then that the openings are left out', () => {
    const coarse = meshed(form, 3000).carved!;
    expect(coarse.leftOut).toEqual([]);
    expect(coarse.coarseStruts?.across).toBeLessThan(3);
    const preview = meshed(form, 800);
    expect(preview.carved?.leftOut).toEqual([0, 1]);
    expectSheet(preview, 0);
    const kept = meshForm(form, { triangles: 800, scale: 1, keepCarving: true });
    expect(kept.carved?.leftOut).toEqual([]);
    expectSheet(kept, 56);
  });
  test('triangles across are counted by hand on a strip of squares: two squares wide, two edges', () => {
    const nodes = [0, 1, 2].flatMap((x) => [0, 1, 2, 3].flatMap((y) => [x, y, 0]));
    const triangles: number[] = [];
    for (let x = 0; x < 2; x++)
      for (let y = 0; y < 3; y++) {
        const a = 4 * x + y;
        triangles.push(a, a + 4, a + 1, a + 4, a + 5, a + 1);
      }
    const struts = countAcross(Float64Array.from(nodes), Uint32Array.from(triangles), [
      [0, 1, 2, 3],
      [8, 9, 10, 11],
    ]);
    expect(struts).toEqual({ across: 2, width_m: 2 });
  });
});

describe('relief', () => {
  const band = (depth_mm: number) => ({
    kind: 'relief',
    map: [
      [1, 1],
      [1, 1],
    ],
    depth_mm,
    alongFrom: 0.3,
    alongTo: 0.7,
  });
  test('a level belt takes its depth off the outside and leaves the inside where it was', () => {
    const mesh = meshed(cylinder(band(1)), 6000);
    let checked = 0;
    for (let n = 0; n < mesh.thickness_m.length; n++) {
      const [x, y, z] = mesh.positions.subarray(3 * n, 3 * n + 3);
      if (z < 0.033 || z > 0.057) continue;
      const r = Math.hypot(x, y) * 1000;
      expect(mesh.thickness_m[n] * 1000).toBeCloseTo(2, 9);
      expect(r + 1).toBeCloseTo(39, 6);
      expect(r - 1).toBeCloseTo(37, 6);
      checked++;
    }
    expect(checked).toBeGreaterThan(500);
  });
  test('clay of a bevelled round is a frustum: πd/3 (R² + Rr + r²), within 3 %, coarse or fine', () => {
    const relief = {
      ...opening({ width_mm: 24, height_mm: 24, count: 4 }),
      kind: 'relief',
      depth_mm: 1.2,
      bevel_mm: 4,
    };
    const exact = 4 * ((Math.PI * 1.2) / 3) * (12 ** 2 + 12 * 8 + 8 ** 2);
    for (const triangles of [2000, 20_000]) {
      const [whole, left] = [cylinder(), cylinder(relief)].map(
        (f) => measure(meshed(f, triangles), 1).clayVolume_m3,
      );
      expect(((whole - left) * 1e9) / exact).toBeGreaterThan(0.97);
      expect(((whole - left) * 1e9) / exact).toBeLessThan(1.03);
    }
  });
});
