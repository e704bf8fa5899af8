import { describe, expect, test } from 'vitest';
import file from '../../../../examples/studio-porcelain.clay.json' with { type: 'json' };
import { parseClay } from '../clay.ts';
import { type AbsorptionFinding, AbsorptionPiece, absorptionFrom } from './absorption.ts';
import { meanOf } from './mean-of.ts';
import { measuredClay } from './measured-clay.ts';
import { ShrinkageBar, shrinkageFrom } from './shrinkage-bars.ts';

const clay = parseClay(file);
const shrinkageBar = (more: object): ShrinkageBar => ShrinkageBar.parse({ name: 'A', ...more });

describe('shrinkage bars (ASTM C326 arithmetic)', () => {
  test('100 mm wet, 94 dry, 86.48 fired: 6 % and 8 %, and 13.52 % in all, never their sum 14', () => {
    const { directions } = shrinkageFrom([shrinkageBar({ wet_mm: 100, dry_mm: 94, fired_mm: 86.48 })]);
    const [along] = directions;
    expect(along.drying_percent?.value).toBeCloseTo(6, 9);
    expect(along.firing_percent?.value).toBeCloseTo(8, 9);
    expect(along.total_percent?.value).toBeCloseTo(13.52, 9);
    // ±0.2 mm on both lengths: 0.2 √(1 + 0.94²) = 0.274 points.
    expect((along.drying_percent?.high ?? 0) - 6).toBeCloseTo(0.2745, 3);
  });
  test('the total follows where dry and fired bars are others', () => {
    const { directions } = shrinkageFrom([
      shrinkageBar({ wet_mm: 100, dry_mm: 94 }),
      shrinkageBar({ name: 'B', dry_mm: 100, fired_mm: 92 }),
    ]);
    expect(directions[0].total_percent?.value).toBeCloseTo(13.52, 9);
  });
  test('each direction by itself, and a bar unlike its fellows is named', () => {
    const set = ['A', 'B', 'C', 'D'].map((name) =>
      shrinkageBar({ name, wet_mm: 102, dry_mm: 96, fired_mm: 87.4 }),
    );
    const across = shrinkageBar({
      name: 'E',
      direction: 'across',
      wet_mm: 30,
      dry_mm: 28.1,
      fired_mm: 25.3,
      plusMinus_mm: 0.05,
    });
    const found = shrinkageFrom([...set.slice(0, 3), { ...set[3], fired_mm: 89 }, across]);
    expect(found.directions.map((d) => d.direction)).toEqual(['along', 'across']);
    expect(found.contradictions.join()).toMatch(/Bar D: its firing shrinkage is 1.7 points less/);
    expect(found.notes.join()).toMatch(/differs by .* points between directions/);
  });
  test('a bar that grew in drying is refused by name; one with a single length too', () => {
    expect(() =>
      shrinkageFrom([shrinkageBar({ wet_mm: 94, dry_mm: 100 }), shrinkageBar({ wet_mm: 100 })]),
    ).toThrow(
      /shrinkageBars\[0\].dry_mm: got 100; expected no more than wet_mm, 94[\s\S]*shrinkageBars\[1\]/,
    );
  });
});

const piece = (dry_g: number, soaked_g: number, hanging_g: number, more = {}): AbsorptionPiece =>
  AbsorptionPiece.parse({ name: 'P', dry_g, soaked_g, hanging_g, water_kg_m3: 1000, ...more });

describe('absorption (ASTM C373 arithmetic)', () => {
  test('D 100, M 100.50, S 60: absorption 0.500 %, porosity 1.2346 %, bulk 2.4691, solid 2.5000 (worked set)', () => {
    const found = absorptionFrom([piece(100, 100.5, 60)]) as AbsorptionFinding;
    expect(found.absorption_percent.value).toBeCloseTo(0.5, 9);
    expect(found.openPorosity_percent.value).toBeCloseTo(1.2346, 4);
    expect(found.bulkDensity_kg_m3.value).toBeCloseTo(2469.1, 1);
    expect(found.solidDensity_kg_m3.value).toBeCloseTo(2500, 6);
    // Bulk density hangs on M and S by D/V² each: √2 × 0.05 g × 100/40.5² = 4.3 kg/m³, D by 1/V: 1.2.
    expect(found.bulkDensity_kg_m3.high - found.bulkDensity_kg_m3.value).toBeCloseTo(4.48, 1);
  });
  test('weights that cannot be are told in words, and the rest still counts', () => {
    const bad = [piece(60, 60.2, 100), piece(100, 98, 60), piece(100, 100.1, 90), piece(100, 100.2, 58.5)];
    const found = absorptionFrom(bad);
    expect(found.faults).toHaveLength(3);
    expect(found.faults[0]).toMatch(/swapped/);
    expect(found.faults[1]).toMatch(/less than dry/);
    expect(found.faults[2]).toMatch(/no fired clay/);
    expect((found as AbsorptionFinding).bulkDensity_kg_m3.count).toBe(1);
  });
  test('a published impossible set (porosity 200 %, density 12) is refused', () => {
    // An engineering page works with W 12, S 14, I 13: V = 1, porosity 200 %, bulk 12.
    expect(absorptionFrom([piece(12, 14, 13)]).faults).toHaveLength(1);
  });
});

test('mean of 9.8, 10.0, 10.4: 10.067, standard error 0.176, ± t(0.9, 2) of it (Student, any table)', () => {
  const m = meanOf([9.8, 10, 10.4].map((value) => ({ name: '', value, sd: 0.01 })));
  expect(m.value).toBeCloseTo(10.0667, 4);
  expect(m.high - m.value).toBeCloseTo(1.886 * 0.17638, 3);
});

describe('a clay with its own measures', () => {
  const mean = (value: number, half: number) => ({
    value,
    low: value - half,
    high: value + half,
    count: 5,
    sd: half / 1.28,
  });
  test('guesses that hang on them follow, and the clay agrees with itself; the old one is untouched', () => {
    const before = JSON.stringify(clay);
    const found = measuredClay(clay, {
      drying_percent: mean(6.4, 0.1),
      firing_percent: mean(9.8, 0.1),
      bulkDensity_kg_m3: mean(2390, 5),
      openPorosity_percent: mean(0.1, 0.05),
      note: 'five bars',
    });
    expect(found.disagreements).toEqual([]);
    expect(parseClay(found.clay).firingShrinkage).toMatchObject({ value_percent: 9.8, how: 'measured' });
    expect(found.clay.boneDryDensity.how).toBe('guess');
    // (1 - 0.098)³ × 2390/(1 - 0.065)
    expect(found.clay.boneDryDensity.value_kg_m3).toBe(1876);
    expect(found.changed.join(' ')).toMatch(/Firing shrinkage: 9.80 ± 0.10 %; it was 9.1 \(guess\)/);
    expect(JSON.stringify(clay)).toBe(before);
  });
  test('where nothing is left to give way, the disagreement is said', () => {
    const stiff = {
      ...clay,
      boneDryDensity: { value_kg_m3: 1927, how: 'measured' as const, note: 'weighed' },
    };
    const found = measuredClay(stiff, { firing_percent: mean(12, 0.1), note: 'five bars' });
    expect(found.disagreements.join()).toMatch(/firingShrinkage.value_percent is 12, expected about 9/);
  });
});
