import { describe, expect, test } from 'vitest';
import type { Motif, Outline } from './carving-shape.ts';
import { readOutline, twiceArea } from './outline.ts';
import { crossesItself } from './overlap.ts';

const area = (outline: Outline, w: number, h: number, turn = 0): number =>
  readOutline(outline, w, h, turn).polygons.reduce((sum, p) => sum + twiceArea(p) / 2, 0);

describe('the ready outlines, by plane geometry', () => {
  const cases: readonly [Motif, number, number, number][] = [
    ['round', 12, 12, Math.PI * 36],
    ['round', 10, 16, Math.PI * 40],
    ['lozenge', 10, 16, 80],
    ['slot', 6, 20, 6 * 14 + Math.PI * 9],
    ['slot', 20, 6, 6 * 14 + Math.PI * 9],
    ['arch', 10, 16, 10 * 11 + Math.PI * 12.5],
  ];
  test.each(cases)('%s %i × %i', (motif, w, h, exact) => {
    // Chords inside a curve lose 0.1 %.
    expect(area({ motif }, w, h) / exact).toBeCloseTo(1, 2);
    expect(area({ motif }, w, h) / exact).toBeLessThan(1 + 1e-9);
    expect(area({ motif }, w, h, 0.7) / exact).toBeCloseTo(area({ motif }, w, h) / exact, 9);
  });
  test.each(['round', 'drop', 'leaf', 'slot', 'lozenge', 'arch'] as const)(
    '%s fills its box and does not cross itself',
    (motif) => {
      const [p] = readOutline({ motif }, 30, 40, 0).polygons;
      expect(Math.max(...p.x) - Math.min(...p.x)).toBeCloseTo(30, 9);
      expect(Math.max(...p.y) - Math.min(...p.y)).toBeCloseTo(40, 9);
      expect(crossesItself(p)).toBeUndefined();
    },
  );
});

describe('path data', () => {
  test('the same square in absolute, relative and mixed steps, either way round', () => {
    for (const path of ['M0 0 L8 0 L8 8 L0 8 Z', 'm0 0h8v8h-8z', 'M5,5v8h8V5z', 'M0 0H8V8H0L0 0'])
      expect(area({ path }, 10, 10)).toBeCloseTo(100, 9);
  });
  test('a circle of four arcs, of Bézier curves with the usual constant 0.5523 and of two arcs agree', () => {
    const k = 0.5523;
    const paths = [
      'M1 0 A1 1 0 0 1 0 1 A1 1 0 0 1 -1 0 A1 1 0 0 1 0 -1 A1 1 0 0 1 1 0 Z',
      `M1 0 C1 ${k} ${k} 1 0 1 S-1 ${k} -1 0 S${-k} -1 0 -1 S1 ${-k} 1 0 Z`,
      'M-1 0 a1 1 0 1 0 2 0 a1 1 0 1 0 -2 0',
    ];
    for (const path of paths) expect(area({ path }, 2, 2) / Math.PI).toBeCloseTo(1, 2);
  });
  test('y runs down, as SVG says: the arch of a path stands on its sill', () => {
    const [p] = readOutline({ path: 'M0 10 V5 L5 0 L10 5 V10 Z' }, 10, 10, 0).polygons;
    const top = p.y.indexOf(Math.max(...p.y));
    expect(p.x[top]).toBeCloseTo(0, 9);
    expect(twiceArea(p)).toBeGreaterThan(0);
  });
  test('a quarter turn to the left lays the tip of a leaf to the left', () => {
    const [p] = readOutline({ motif: 'drop' }, 10, 20, Math.PI / 2).polygons;
    expect(p.y[p.x.indexOf(Math.min(...p.x))]).toBeCloseTo(0, 6);
  });
  test('two outlines in one path keep their places in the common box', () => {
    expect(area({ path: 'M0 0h4v4h-4z M6 0h4v4h-4z' }, 100, 40)).toBeCloseTo(2 * 40 * 40, 6);
  });
  test.each([
    ['M0 0 L10 0 L10 10', 'open'],
    ['M0 0 L', 'missed param'],
    ['hello', 'path data'],
    ['M0 0 L5 5 Z', 'encloses nothing'],
    ['M3 3', 'draws no line'],
  ])('%s is refused', (path, why) => {
    expect(readOutline({ path }, 10, 10, 0).fault).toContain(why);
  });
});

test('a bow tie crosses itself, a star does not', () => {
  const of = (path: string) => readOutline({ path }, 10, 10, 0).polygons[0];
  expect(crossesItself(of('M0 0 L10 10 L10 0 L0 10 Z'))).toBeDefined();
  expect(crossesItself(of('M5 0 L6 4 L10 5 L6 6 L5 10 L4 6 L0 5 L4 4 Z'))).toBeUndefined();
});
