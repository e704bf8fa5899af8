import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { sheetMass } from '../../../kernel/mesh/sheet-mass.ts';
import { type Form, parseForm } from '../form.ts';
import { meshForm } from '../mesh-form.ts';
import { formSection } from '../section.ts';
import { alteredSurface } from '../surface.ts';

/** Each alteration on a tube of 50 mm outside radius, wall 4 (mid-surface 48 mm), 100 mm long: plane geometry. */
const tube = (...alterations: unknown[]): Form => {
  const plain = JSON.parse(readFileSync('examples/small-plain-cylinder.form.json', 'utf8'));
  const line = [
    { radius_mm: 50, height_mm: 0 },
    { radius_mm: 50, height_mm: 100 },
  ];
  return parseForm({
    ...plain,
    line,
    wall: [{ along: 0, thickness_mm: 4 }],
    foot: { kind: 'none' },
    alterations,
  });
};

/** Where the mid-surface is: radius, angle it was drawn at, height, all mm. */
const reader = (form: Form) => {
  const surface = alteredSurface(formSection(form), form.alterations);
  const p = new Float64Array(3);
  return (along: number, angle: number) => {
    surface.at(along * surface.total, angle, p, 0);
    return { x: p[0], y: p[1], z: p[2], radius: Math.hypot(p[0], p[1]) };
  };
};

describe('lobes', () => {
  const depth = [{ along: 0, depth_mm: 10 }];
  test('soft: radius is 48 + 5 cos(n·angle)', () => {
    const at = reader(tube({ kind: 'lobes', count: 5, depth }));
    for (let k = 0; k < 20; k++) expect(at(0.4, 0.3 * k).radius).toBeCloseTo(48 + 5 * Math.cos(1.5 * k), 9);
  });
  test('sharp: ridge and hollow are still 10 mm apart, and the ridge has a corner', () => {
    const at = reader(tube({ kind: 'lobes', count: 5, depth, roundness: 0 }));
    expect(at(0.4, 0).radius - at(0.4, Math.PI / 5).radius).toBeCloseTo(10, 9);
    const fall = (at(0.4, 0).radius - at(0.4, 1e-6).radius) / 1e-6;
    expect(fall).toBeCloseTo(5 * 5, 2);
  });
  test('twist: at the lip the first ridge has turned by just so much', () => {
    const at = reader(tube({ kind: 'lobes', count: 5, depth, twist_deg: 40, turn_deg: 10 }));
    expect(at(0, Math.PI / 18).radius).toBeCloseTo(53, 9);
    expect(at(1, (50 * Math.PI) / 180).radius).toBeCloseTo(53, 9);
  });
  test('depth follows its curve along the line', () => {
    const ends = [
      { along: 0.2, depth_mm: 0 },
      { along: 0.8, depth_mm: 6 },
    ];
    const at = reader(tube({ kind: 'lobes', count: 5, depth: ends }));
    expect(at(0.1, 0).radius).toBeCloseTo(48, 9);
    expect(at(0.5, 0).radius).toBeCloseTo(49.5, 9);
    expect(at(0.9, 0).radius).toBeCloseTo(51, 9);
  });
  test('the mesh has a node on every ridge and hollow', () => {
    const mesh = meshForm(tube({ kind: 'lobes', count: 7, depth, twist_deg: 25 }), {
      triangles: 1200,
      scale: 1,
    });
    const radius = [...mesh.lipNodes].map((n) =>
      Math.hypot(mesh.positions[3 * n], mesh.positions[3 * n + 1]),
    );
    expect(radius.filter((r) => Math.abs(r - 0.053) < 1e-9)).toHaveLength(7);
    expect(radius.filter((r) => Math.abs(r - 0.043) < 1e-9)).toHaveLength(7);
  });
  test('area of a wave: the arc length of r = 48 + 5 cos 5φ by quadrature, times the height', () => {
    const form = tube({ kind: 'lobes', count: 5, depth });
    let arc = 0;
    const n = 20_000;
    for (let k = 0; k < n; k++) {
      const phi = (2 * Math.PI * (k + 0.5)) / n;
      arc += Math.hypot(48 + 5 * Math.cos(5 * phi), 25 * Math.sin(5 * phi)) * ((2 * Math.PI) / n);
    }
    const off = (triangles: number) =>
      1 - sheetMass(meshForm(form, { triangles, scale: 1 })).area_m2 / (arc * 100 * 1e-6);
    expect(Math.abs(off(20_000))).toBeLessThan(0.001);
    expect(Math.abs(off(20_000))).toBeLessThan(Math.abs(off(2000)) / 5);
  });
});

describe('oval', () => {
  test('an ellipse of half axes 48·1.25 and 48/1.25, its area the circle’s', () => {
    const at = reader(tube({ kind: 'oval', longer_percent: 25, turn_deg: 90 }));
    for (let k = 0; k < 12; k++) {
      const { x, y } = at(0.5, k);
      expect((y / (48 * 1.25)) ** 2 + (x / (48 / 1.25)) ** 2).toBeCloseTo(1, 12);
    }
    expect(at(0.5, Math.PI / 2).radius).toBeCloseTo(60, 9);
  });
  test('after lobes is another piece than before them', () => {
    const lobes = { kind: 'lobes', count: 3, depth: [{ along: 0, depth_mm: 10 }] };
    const oval = { kind: 'oval', longer_percent: 20 };
    expect(reader(tube(lobes, oval))(0.5, 0).radius).toBeCloseTo(53 * 1.2, 9);
    expect(reader(tube(oval, lobes))(0.5, 0).radius).toBeCloseTo(48 * 1.2 + 5, 9);
  });
});

describe('facets', () => {
  test('a regular hexagon: flats at 48·cos 30°, edges on the circle', () => {
    const at = reader(tube({ kind: 'facets', count: 6 }));
    expect(at(0.5, 0).radius).toBeCloseTo(48, 9);
    for (let k = 1; k < 10; k++) {
      const angle = (k / 10) * (Math.PI / 3);
      const { x, y } = at(0.5, angle);
      expect(x * Math.cos(Math.PI / 6) + y * Math.sin(Math.PI / 6)).toBeCloseTo(
        48 * Math.cos(Math.PI / 6),
        9,
      );
    }
  });
  test('half flat is half way; beyond its ends the wall is round', () => {
    const at = reader(tube({ kind: 'facets', count: 6, flatness: 0.5, from: 0.3, to: 0.7 }));
    expect(at(0.5, Math.PI / 6).radius).toBeCloseTo(48 * (0.5 + 0.5 * Math.cos(Math.PI / 6)), 9);
    expect(at(0.25, Math.PI / 6).radius).toBeCloseTo(48, 9);
    expect(at(0.75, Math.PI / 6).radius).toBeCloseTo(48, 9);
  });
});

describe('push', () => {
  const at = reader(tube({ kind: 'push', angle_deg: 90, along: 0.5, reach_mm: 20, depth_mm: -6 }));
  test('6 mm in at its middle, nothing past its reach', () => {
    expect(at(0.5, Math.PI / 2).radius).toBeCloseTo(42, 9);
    expect(at(0.5, Math.PI / 2 + 20.01 / 48).radius).toBeCloseTo(48, 9);
    expect(at(0.71, Math.PI / 2).radius).toBeCloseTo(48, 9);
    expect(at(0.5, 0).radius).toBeCloseTo(48, 9);
  });
  test('the clay moved is (π/4)·depth·reach²: ∫(1 - d²)³ over the disc', () => {
    let moved = 0;
    const n = 300;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        const [u, v] = [(i + 0.5) / n - 0.5, (j + 0.5) / n - 0.5];
        const r = at(0.5 + (v * 44) / 100, Math.PI / 2 + (u * 44) / 48).radius;
        moved += (48 - r) * (44 / n) ** 2;
      }
    expect(moved / ((Math.PI / 4) * 6 * 400)).toBeCloseTo(1, 3);
  });
});

describe('cut lip', () => {
  const form = tube({ kind: 'cut lip', count: 3, depth_mm: 12 });
  test('the lip runs from 100 down to 88 mm, and the wall stays where it was', () => {
    const at = reader(form);
    expect(at(1, 0).z).toBeCloseTo(88, 9);
    expect(at(1, Math.PI / 3).z).toBeCloseTo(100, 9);
    expect(at(0.5, 0).z).toBeCloseTo(50, 9);
    for (let k = 0; k < 9; k++) expect(at(1, k).radius).toBeCloseTo(48, 9);
  });
  test('a wave takes away half its depth all round: 2πr·(100 - 6) is left', () => {
    const { area_m2 } = sheetMass(meshForm(form, { triangles: 20_000, scale: 1 }));
    expect(area_m2 / (2 * Math.PI * 48 * 94 * 1e-6)).toBeCloseTo(1, 3);
  });
  test('rows below the cut never fold over one another', () => {
    const at = reader(tube({ kind: 'cut lip', count: 5, depth_mm: 55, shape: 'notch' }));
    let before = -1;
    for (let k = 0; k <= 200; k++) {
      const { z } = at(k / 200, 0);
      expect(z).toBeGreaterThan(before);
      before = z;
    }
  });
});
