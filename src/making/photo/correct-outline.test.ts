import { expect, test } from 'vitest';
import { compareOutlines } from './compare-outlines.ts';
import { correctOutline } from './correct-outline.ts';
import { outlineMeasures } from './outline-measures.ts';
import { evenly, nearestOn } from './ring.ts';
import { outlineForUnloading, outlinePlusMinus_m } from './unloading-outline.ts';

/** A beaker 80 mm wide at the lip, 60 at the foot, 100 high. */
const BEAKER = Float64Array.from([0.03, 0, 0.04, 0.1, -0.04, 0.1, -0.03, 0]);
const beaker = (count = 720) => ({
  points_m: evenly(BEAKER, count),
  sure: new Float64Array(count).fill(0.2),
});

test('a pull takes the outline to where the hand lets go, leaves all out of reach, and keeps the automatic one', () => {
  const before = beaker();
  const kept = before.points_m.slice();
  const after = correctOutline(before, [{ from_m: [0.036, 0.05], to_m: [0.039, 0.051], reach_m: 0.02 }]);
  expect(nearestOn(after.points_m, 0.039, 0.051).distance).toBeLessThan(2e-5);
  expect(before.points_m).toEqual(kept);
  for (let i = 0; i < kept.length; i += 2) {
    const far = Math.hypot(kept[i] - 0.035, kept[i + 1] - 0.05) > 0.0205;
    if (far) expect(after.points_m[i]).toBe(kept[i]);
  }
  // Smooth: no point is moved much more than its neighbour.
  const move = (i: number): number =>
    Math.hypot(after.points_m[2 * i] - kept[2 * i], after.points_m[2 * i + 1] - kept[2 * i + 1]);
  for (let i = 1; i < 720; i++) expect(Math.abs(move(i) - move(i - 1))).toBeLessThan(0.0002);
  expect(Math.max(...after.sure)).toBeGreaterThan(0.99);
  expect(() => correctOutline(before, [{ from_m: [0, 0], to_m: [0, 0], reach_m: 0 }])).toThrow(/reach_mm/);
});

test('measures of a beaker are those of its drawing', () => {
  const m = outlineMeasures(beaker().points_m);
  expect(m.height_m).toBeCloseTo(0.1, 6);
  expect(m.lipWidth_m).toBeCloseTo(0.08, 3);
  expect(m.footWidth_m).toBeCloseTo(0.06, 3);
  expect(m.widest_m).toBeCloseTo(0.08, 3);
  expect(m.lean_m).toBeCloseTo(0, 3);
});

test('an outline put elsewhere is laid over again, and a lip that came down 2 mm on one side is told as 2 mm', () => {
  const { points_m, sure } = beaker();
  const away = points_m.map((v, i) => (i % 2 === 0 ? v + 0.317 : v));
  const same = compareOutlines({ points_m: away, sure }, BEAKER);
  expect(same.shift_m).toBeCloseTo(-0.317, 6);
  expect(same.rms_m).toBeLessThan(1e-6);
  // The right half of the lip hangs: a straight slope from the middle to 2 mm.
  const hung = away.map((v, i) => {
    const [x, z] = i % 2 === 0 ? [v, away[i + 1]] : [away[i - 1], v];
    return i % 2 === 1 ? Math.min(z, 0.1 - (0.002 * Math.max(0, x - 0.317)) / 0.04) : v;
  });
  const found = compareOutlines({ points_m: hung, sure }, BEAKER);
  expect(found.greatest_m).toBeCloseTo(-0.002, 3);
  expect(found.foreseen.lipRight_m - found.measured.lipRight_m).toBeCloseTo(0.002, 4);
  expect(found.foreseen.lipLeft_m - found.measured.lipLeft_m).toBeCloseTo(0, 4);
});

test('a card one degree off level is undone if wished', () => {
  const { points_m, sure } = beaker();
  const a = Math.PI / 180;
  const turned = points_m.map((_, i) => {
    const [x, z] = [points_m[i & ~1], points_m[i | 1]];
    return i % 2 === 0 ? Math.cos(a) * x - Math.sin(a) * z : Math.sin(a) * x + Math.cos(a) * z;
  });
  const found = compareOutlines({ points_m: turned, sure }, BEAKER, { turn: true });
  expect(found.turn_rad).toBeCloseTo(-a, 4);
  expect(found.rms_m).toBeLessThan(3e-5);
  expect(compareOutlines({ points_m: turned, sure }, BEAKER).rms_m).toBeGreaterThan(3e-4);
});

test('what goes into an unloading file: mm, 400 points, and ± that says whether the camera was known', () => {
  const outline = beaker(1000);
  const camera = { x_m: 0, z_m: 0.05, distance_m: 1.5 };
  const kept = outlineForUnloading(outline, 90, outlinePlusMinus_m(outline, camera));
  expect(kept.points_mm).toHaveLength(400);
  expect(kept.plusMinus_mm).toBeCloseTo(0.7, 2);
  expect(Math.max(...kept.points_mm.map(([, z]) => z))).toBeCloseTo(100, 1);
  expect(outlinePlusMinus_m(outline)).toBeGreaterThan(outlinePlusMinus_m(outline, camera));
});
