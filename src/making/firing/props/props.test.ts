import { describe, expect, test } from 'vitest';
import { enclosedVolume } from '../../../kernel/mesh/volume.ts';
import { obstaclesOf } from './obstacles.ts';
import { propMesh, propSection } from './prop-mesh.ts';
import { PROPS_CAUTION, Prop, shapeOf } from './table.ts';

const at = (prop: object) => {
  const p = Prop.parse(prop);
  const distance = shapeOf(p).distance(p);
  return (x_mm: number, y_mm: number, z_mm: number): Float64Array => {
    const out = new Float64Array(4);
    distance(x_mm / 1000, y_mm / 1000, z_mm / 1000, out);
    return out;
  };
};
const mm = (out: Float64Array): number => 1000 * out[3];

const EACH = [
  { kind: 'post', x_mm: 12, y_mm: -7, width_mm: 30, height_mm: 60 },
  { kind: 'saddle', x_mm: 40, y_mm: 5, length_mm: 40, hollowRadius_mm: 45, height_mm: 20 },
  { kind: 'hump', x_mm: -10, width_mm: 120, height_mm: 35 },
  { kind: 'hump', x_mm: -10, width_mm: 30, height_mm: 70 },
  { kind: 'ring', x_mm: 3, insideRadius_mm: 30, width_mm: 14, height_mm: 12 },
  { kind: 'wall', away_mm: 55, towards_deg: 30 },
];

/** Points all about a prop, the same ones every time. */
const about = function* (count: number): Generator<readonly [number, number, number]> {
  // R. M. Roberts' additive sequence in three dimensions: even cover without chance.
  const g = 1.2207440846057596;
  for (let i = 1; i <= count; i++)
    yield [1, 2, 3].map((k) => ((i / g ** k) % 1) * 200 - 100 + (k === 3 ? 75 : 0)) as [
      number,
      number,
      number,
    ];
};

describe('an exact distance has a gradient of length one that its own differences give (eikonal equation)', () => {
  for (const prop of EACH)
    test(`${prop.kind} ${prop.width_mm ?? ''}`, () => {
      const read = at(prop);
      const h = 1e-4;
      let ridges = 0;
      for (const [x, y, z] of about(3000)) {
        const here = read(x, y, z);
        expect(Math.hypot(here[0], here[1], here[2])).toBeCloseTo(1, 9);
        const slope = [
          (mm(read(x + h, y, z)) - mm(read(x - h, y, z))) / (2 * h),
          (mm(read(x, y + h, z)) - mm(read(x, y - h, z))) / (2 * h),
          (mm(read(x, y, z + h)) - mm(read(x, y, z - h))) / (2 * h),
        ];
        if (Math.hypot(slope[0] - here[0], slope[1] - here[1], slope[2] - here[2]) > 1e-4) ridges++;
      }
      // Only points within h of where two faces are equally near may differ.
      expect(ridges).toBeLessThan(3);
    });

  for (const prop of EACH)
    test(`${prop.kind} ${prop.width_mm ?? ''}: walking the distance along the normal lands on the skin`, () => {
      const read = at(prop);
      for (const [x, y, z] of about(1500)) {
        const here = read(x, y, z);
        const d = mm(here);
        if (d < 0) continue;
        expect(Math.abs(mm(read(x - d * here[0], y - d * here[1], z - d * here[2])))).toBeLessThan(1e-6);
      }
    });
});

describe('distances by plane geometry', () => {
  test('post: over its top, beside it, and off its rounded edge', () => {
    const read = at({ kind: 'post', width_mm: 30, height_mm: 60 });
    expect(mm(read(0, 0, 75))).toBeCloseTo(15, 9);
    expect(mm(read(0, 25, 10))).toBeCloseTo(10, 9);
    // From the middle of the 2 mm edge radius at (13, 58) the point (16, 62) is 5 away: 3-4-5.
    expect(mm(read(16, 0, 62))).toBeCloseTo(3, 9);
    expect(mm(read(0, 0, 55))).toBeCloseTo(-5, 9);
  });
  test('saddle: from the middle of the hollow it is one radius to everywhere in it', () => {
    const read = at({ kind: 'saddle', length_mm: 40, hollowRadius_mm: 45, height_mm: 20 });
    expect(mm(read(0, 0, 65))).toBeCloseTo(45, 9);
    for (const deg of [-55, -20, 0, 35, 58]) {
      const a = (deg * Math.PI) / 180;
      expect(mm(read(5, 30 * Math.sin(a), 65 - 30 * Math.cos(a)))).toBeCloseTo(15, 9);
    }
    expect(mm(read(0, 0, 14))).toBeCloseTo(-6, 9);
  });
  test('hump: 120 wide and 36 high is part of a ball of radius (60² + 36²)/72 = 68', () => {
    const read = at({ kind: 'hump', width_mm: 120, height_mm: 36 });
    expect(mm(read(0, 0, 46))).toBeCloseTo(10, 9);
    expect(mm(read(60, 0, 0))).toBeCloseTo(0, 9);
    expect(mm(read(0, 51, 68 - 32 - 68 + 32 + 36))).toBeCloseTo(Math.hypot(51, 68) - 68, 9);
  });
  test('ring: the bar between 30 and 44 from the axis, 12 high', () => {
    const read = at({ kind: 'ring', insideRadius_mm: 30, width_mm: 14, height_mm: 12 });
    expect(mm(read(0, 0, 5))).toBeCloseTo(30, 9);
    expect(mm(read(37, 0, 20))).toBeCloseTo(8, 9);
    expect(mm(read(0, 50, 3))).toBeCloseTo(6, 9);
  });
  test('wall: the distance to a plane', () => {
    const read = at({ kind: 'wall', away_mm: 55, towards_deg: 30 });
    expect(mm(read(0, 0, 300))).toBeCloseTo(55, 9);
    expect(mm(read(40, 30, 10))).toBeCloseTo(55 - 40 * Math.cos(Math.PI / 6) - 15, 9);
  });
});

describe('bodies to look at', () => {
  for (const prop of EACH)
    test(`${prop.kind} ${prop.width_mm ?? ''}: corners lie on its skin, triangles face out`, () => {
      const p = Prop.parse(prop);
      const mesh = propMesh(p, 0.2);
      const distance = shapeOf(p).distance(p);
      const out = new Float64Array(4);
      const v = mesh.positions;
      for (let i = 0; i < v.length; i += 3) {
        if (v[i + 2] < 1e-9 || prop.kind === 'wall') continue;
        distance(v[i], v[i + 1], v[i + 2], out);
        // A saddle's ends are drawn square, its edge there is rounded by 2 mm: off by (√2 - 1)·2 at most (√3 at tips).
        expect(Math.abs(out[3])).toBeLessThan(prop.kind === 'saddle' ? 0.0015 : 1e-9);
      }
      expect(enclosedVolume(mesh)).toBeGreaterThan(0);
    });

  test('volumes: a post and a ring by their formulas, within a 48-gon and their rounded edges', () => {
    const post = enclosedVolume(propMesh(Prop.parse({ kind: 'post', width_mm: 30, height_mm: 60 }), 1));
    expect(post / (Math.PI * 0.015 ** 2 * 0.06)).toBeGreaterThan(0.985);
    expect(post / (Math.PI * 0.015 ** 2 * 0.06)).toBeLessThan(1);
    const ring = enclosedVolume(
      propMesh(Prop.parse({ kind: 'ring', insideRadius_mm: 30, width_mm: 14, height_mm: 12 }), 1),
    );
    const whole = Math.PI * (0.044 ** 2 - 0.03 ** 2) * 0.012;
    expect(ring / whole).toBeGreaterThan(0.96);
    expect(ring / whole).toBeLessThan(1);
  });

  test('cut through its middle a saddle is as wide and as high as it was said to be', () => {
    const p = Prop.parse({ kind: 'saddle', x_mm: 20, length_mm: 40, hollowRadius_mm: 40, height_mm: 25 });
    const lines = propSection(propMesh(p, 1), [0.02, 0, 0], [1, 0, 0]);
    let [high, wide, low] = [0, 0, 1];
    for (const line of lines)
      for (let i = 0; i < line.points.length; i += 3) {
        high = Math.max(high, line.points[i + 2]);
        wide = Math.max(wide, line.points[i + 1]);
        if (Math.abs(line.points[i + 1]) < 1e-4 && line.points[i + 2] > 0)
          low = Math.min(low, line.points[i + 2]);
      }
    expect(high).toBeCloseTo(shapeOf(p).top_m(p), 6);
    expect(wide).toBeCloseTo(0.04 * Math.sin(Math.PI / 3) + 0.008, 6);
    expect(low).toBeCloseTo(0.025, 6);
  });
});

test('a careful word stands beside the props', () => {
  for (const word of [/load limits/, /mask/, /silica/, /two people/]) expect(PROPS_CAUTION).toMatch(word);
});

test('a prop of no known kind, or of an impossible size, is refused', () => {
  expect(Prop.safeParse({ kind: 'stool' }).success).toBe(false);
  expect(Prop.safeParse({ kind: 'post', width_mm: 1, height_mm: 50 }).success).toBe(false);
});

test('in bone-dry lengths kiln furniture grows as the piece shrinks, a prop of the same clay does not', () => {
  // A post 60 mm high under a piece shrunk to 0.9 stands 60/0.9 of the piece's dry millimetres high.
  const post = { kind: 'post', width_mm: 30, height_mm: 60 };
  const props = [Prop.parse(post), Prop.parse({ ...post, shrinks: true })];
  const [furniture, clay] = obstaclesOf(props, [0.01, 0], (time) => 1 - 0.1 * time);
  const out = new Float64Array(4);
  furniture(0.011, 0, 0.1, 1, out);
  expect(1000 * out[3]).toBeCloseTo(100 - 60 / 0.9, 9);
  clay(0.011, 0, 0.1, 1, out);
  expect(1000 * out[3]).toBeCloseTo(40, 9);
});
