import { describe, expect, test } from 'vitest';
import { GRAVITY_m_s2 } from '../../../units.ts';
import { type BoneDryBar, barCreep } from './bar-creep.ts';

const noShrinkage = (): number => 1;
const bar = (more: Partial<BoneDryBar> = {}): BoneDryBar => ({
  held: 'over edges',
  span_m: 0.1,
  length_m: 0.1,
  thickness_m: 0.005,
  density_kg_m3: 2400,
  friction: 0,
  ...more,
});
/** 5 ρ g L⁴/(96 η h²) a second: a bar on two knife edges, elastic beam with 3 η for E. */
const smallSag = (b: BoneDryBar, clock: number): number =>
  ((5 * b.density_kg_m3 * GRAVITY_m_s2 * b.span_m ** 4) / (96 * b.thickness_m ** 2)) * clock;
const sag = (b: BoneDryBar, clock: number): number => barCreep(b, clock, noShrinkage)?.sag_m ?? Number.NaN;

test('small sag: 5ρgL⁴/(96ηh²), 0.4905 µm/s for 100 × 5 mm at 1e10 Pa·s (with g = 9.81), by its ends or over edges', () => {
  const clock = 100 / 1e10; // 100 s: 0.05 mm
  expect((smallSag(bar(), 1e-10) * 9.81) / GRAVITY_m_s2).toBeCloseTo(4.905e-7, 11);
  for (const held of ['by its ends', 'over edges'] as const)
    expect(sag(bar({ held, length_m: 0.1002 }), clock) / smallSag(bar(), clock)).toBeCloseTo(1, 3);
});

test('bar beyond the supports lifts the middle: 1 - 4.8 (a/L)², by superposition of the end moments', () => {
  // M0 = q a²/2 at both supports lifts the middle by M0 L²/(8 E I), against 5 q L⁴/(384 E I).
  const b = bar({ length_m: 0.13 });
  const clock = 100 / 1e10;
  expect(sag(b, clock) / smallSag(b, clock)).toBeCloseTo(1 - 4.8 * 0.15 ** 2, 3);
});

describe('large sag against two independent solid programs (reference case of the 150 × 25 × 5 mm bar)', () => {
  // Mid-line and long edge differ as the bar curls across its width, which a line does not know: it is between them, and
  // within 1 % of their mean all the way to a third of the span.
  const times = [3000, 6000, 9000, 12000, 15000, 18000];
  const mid_mm = [14.434, 26.939, 36.595, 43.516, 48.286, 51.532];
  const edge_mm = [14.672, 27.387, 37.215, 44.269, 49.139, 52.462];
  const b = bar({ held: 'by its ends', span_m: 0.15 });
  const g = 9.81 / GRAVITY_m_s2;

  test.each(times.map((t, i) => [t, mid_mm[i], edge_mm[i]]))('%i s', (t, mid, edge) => {
    const ours = 1000 * sag(b, (g * t) / 5e9);
    expect(ours).toBeGreaterThan(mid);
    expect(ours).toBeLessThan(edge * 1.002);
    expect(Math.abs(ours / ((mid + edge) / 2) - 1)).toBeLessThan(0.01);
  });

  test('the small-sag formula would be out by 22 % at a quarter of the span', () => {
    expect((1000 * smallSag(b, (g * 9000) / 5e9)) / 36.6).toBeGreaterThan(1.2);
  });
});

test('twice as fine changes nothing that counts, and a bar can slide in between its edges', () => {
  const b = bar({ length_m: 0.13, friction: 0.3 });
  const clock = 2e-6;
  const fine = barCreep(b, clock, noShrinkage, 2)?.sag_m ?? Number.NaN;
  expect(sag(b, clock)).toBeGreaterThan(0.007);
  expect(Math.abs(sag(b, clock) / fine - 1)).toBeLessThan(1e-3);
  expect(barCreep(bar({ length_m: 0.104 }), 1e-4, noShrinkage)).toBeUndefined();
});

test('a bar that shrinks before it softens is a smaller bar on the same supports', () => {
  // All shrinkage done before the clock starts: the fired bar (0.9 of every length, weight per length as mass demands).
  const L = 0.9;
  const dry = bar({ length_m: 0.14, thickness_m: 0.006, density_kg_m3: 1800 });
  const fired = bar({ length_m: 0.126, thickness_m: 0.0054, density_kg_m3: 1800 / L ** 3 });
  const clock = 1e-7;
  // The fired bar's own clock is ∫dt/η, the dry one's ∫dt/(η L²).
  const shrunk = barCreep(dry, clock / L ** 2, () => L)?.sag_m ?? Number.NaN;
  expect(shrunk / sag(fired, clock)).toBeCloseTo(1, 6);
});
