import { describe, expect, test } from 'vitest';
import { kelvinFromCelsius } from '../../units.ts';
import { hotterBy, type TemperatureHistory } from '../clay/temperature-history.ts';
import { bendOf, CONE_LAWS, workOf } from './cone-law.ts';
import { WitnessCone, witnessOffset } from './witness.ts';

/** Straight up at a rate to a peak, then down in no time: cones of the chart are seen at the peak. */
const ramp = (to_C: number, rate_C_h = 60): TemperatureHistory => {
  const up_s = ((to_C - 20) / rate_C_h) * 3600;
  return {
    time_s: Float64Array.of(0, up_s, up_s + 1),
    temperature_K: Float64Array.from([20, to_C, 200], kelvinFromCelsius),
  };
};
const cone = (name: string, bend_deg: number, more = {}): WitnessCone =>
  WitnessCone.parse({ cone: name, bend_deg, ...more });
const angle = (name: string, heat: TemperatureHistory): number =>
  90 * bendOf(workOf(CONE_LAWS.find((l) => l.cone === name)!, heat));

describe("against the maker's chart", () => {
  test.each([
    ['6', 1222, 60],
    ['6', 1243, 150],
    ['10', 1285, 60],
    ['8', 1271, 150],
  ])(
    'cone %s comes down at %i °C when heated at %i °C/h: a thermometer that says so is right within 2 °C',
    (name, end_C, rate) => {
      const heat = ramp(end_C, rate);
      const found = witnessOffset([cone(name, 84)], heat);
      expect(found.kind).toBe('found');
      expect(Math.abs(found.hotter_K)).toBeLessThan(2);
      expect(found.contradictions).toEqual([]);
    },
  );

  test('a thermometer that read 15 °C too low is found out, within its interval', () => {
    const said = ramp(1250, 100);
    const really = hotterBy(said, 15);
    const seen = ['8', '9', '10'].map((name) => cone(name, Math.round(angle(name, really))));
    const found = witnessOffset(seen, said);
    expect(found.hotter_K).toBeGreaterThan(15 - (found.plusMinus80_K as number));
    expect(found.hotter_K).toBeLessThan(15 + (found.plusMinus80_K as number));
    expect(found.plusMinus80_K).toBeLessThan(6);
    expect(found.text).toMatch(/15 °C hotter than its thermometer said, ± \d/);
  });
});

describe('what cones cannot tell', () => {
  test('all down: at least; all standing: at most', () => {
    const down = witnessOffset([cone('8', 90), cone('9', 110)], ramp(1230));
    expect(down.kind).toBe('at least');
    expect(down.plusMinus80_K).toBeUndefined();
    // Cone 9 is at 1260 °C on the chart at 60 °C/h.
    expect(Math.abs(down.hotter_K - 30)).toBeLessThan(3);
    expect(witnessOffset([cone('10', 0), cone('11', 0)], ramp(1230)).kind).toBe('at most');
  });
  test('a harder cone bent further than a softer one beside it is no heat at all', () => {
    const found = witnessOffset([cone('8', 20), cone('9', 85)], ramp(1250));
    expect(found.kind).toBe('contradictory');
    expect(found.contradictions[0]).toMatch(/Cone 9 is bent by 85°, the softer cone 8 by 20°/);
    const apart = [cone('8', 20, { place: 'bottom' }), cone('9', 85, { place: 'top' })];
    expect(witnessOffset(apart, ramp(1250)).kind).not.toBe('contradictory');
  });
  test('a cone that stands where the others have it down is named', () => {
    const heat = ramp(1260, 100);
    const seen = [cone('8', Math.round(angle('8', hotterBy(heat, 0)))), cone('5', 40), cone('9', 20)];
    expect(witnessOffset(seen, heat).contradictions.join(' ')).toMatch(/Cone 5 /);
  });
  test('an unknown cone is refused', () => {
    expect(() => witnessOffset([cone('99', 20)], ramp(1250))).toThrow(
      /cones\[0\].cone: got "?99"?.*cone of the chart/,
    );
  });
  test('a long hold makes the interval wider, and says why', () => {
    const h = ramp(1230, 100);
    const held: TemperatureHistory = {
      time_s: Float64Array.of(0, h.time_s[1], h.time_s[1] + 4 * 3600, h.time_s[1] + 20000),
      temperature_K: Float64Array.from([20, 1230, 1230, 200], kelvinFromCelsius),
    };
    const seen = ['8', '9'].map((name) => cone(name, Math.round(angle(name, held))));
    const found = witnessOffset(seen, held);
    expect(found.notes.join(' ')).toMatch(/cone laws are sure between 60 and 150/);
    expect(found.plusMinus80_K ?? 99).toBeGreaterThan(5);
  });
});
