import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { celsiusFromFahrenheit, GAS_CONSTANT_J_molK, kelvinFromCelsius } from '../../units.ts';
import type { TemperatureHistory } from '../clay/temperature-history.ts';
import {
  activationFromTwoRates,
  bendOf,
  CONE_LAWS,
  type ConeLaw,
  workOf,
  workRate_per_s,
} from './cone-law.ts';
import { CONE_CHART, chartCone } from './cones.ts';
import { heatWork } from './heat-work.ts';
import { parseSchedule, temperatureHistory } from './schedule.ts';

/** Corners in hours and °C. */
const heat = (...corners: readonly (readonly [number, number])[]): TemperatureHistory => ({
  time_s: Float64Array.from(corners, ([h]) => h * 3600),
  temperature_K: Float64Array.from(corners, ([, t]) => kelvinFromCelsius(t)),
});
const ramp = (rate_C_h: number, to_C: number) => heat([0, 20], [(to_C - 20) / rate_C_h, to_C]);
const lawFor = (cone: string): ConeLaw => CONE_LAWS.find((law) => law.cone === cone)!;

/** Where the model brings a cone down on a steady ramp, °C. */
const endPoint_C = (law: ConeLaw, rate_C_h: number): number => {
  let low = 300;
  let high = 1600;
  for (let i = 0; i < 50; i++) {
    const mid = (low + high) / 2;
    if (workOf(law, ramp(rate_C_h, mid)) < 1) low = mid;
    else high = mid;
  }
  return low;
};
const rms = (errors: readonly number[]): number =>
  Math.sqrt(errors.reduce((a, e) => a + e * e, 0) / errors.length);
const worst = (errors: readonly number[]): number => Math.max(...errors.map(Math.abs));

describe('against the chart of self-supporting cones', () => {
  test('at 60 and 150 °C/h, which the laws come from: within 0.05 °C', () => {
    for (const law of CONE_LAWS) {
      expect(Math.abs(endPoint_C(law, 60) - law.chart.at60_C)).toBeLessThan(0.05);
      expect(Math.abs(endPoint_C(law, 150) - law.chart.at150_C)).toBeLessThan(0.05);
    }
  });

  /**
   * The check proper: 15 °C/h was never fitted. The bounds are what was measured, rounded up, so that a worse law
   * fails; a law with E = 500 kJ/mol for all is twice as far off (below). The wide spread is the chart's own: E between 15 and
   * 60 °C/h and between 60 and 150 °C/h differ by half and more for one and the same cone.
   */
  const slow = CONE_LAWS.filter((law) => law.chart.at15_C !== undefined);
  const errorsAt15 = (laws: readonly ConeLaw[]): number[] =>
    laws.map((l) => endPoint_C(l, 15) - l.chart.at15_C!);
  const read = slow.filter((law) => law.chart.standing15 !== 'memory');
  const remembered = slow.filter((law) => law.chart.standing15 === 'memory');

  test('at 15 °C/h, cones whose figure was read in print: rms 5.7 °C, worst 12.4', () => {
    const errors = errorsAt15(read);
    expect(errors).toHaveLength(13);
    expect(rms(errors)).toBeLessThan(5.8);
    expect(worst(errors)).toBeLessThan(12.6);
  });

  test('at 15 °C/h, cones whose figure is from memory (no proof by itself): rms 7.2 °C, worst 14', () => {
    const errors = errorsAt15(remembered);
    expect(errors).toHaveLength(22);
    expect(rms(errors)).toBeLessThan(7.3);
    expect(worst(errors)).toBeLessThan(14.2);
  });

  test('27 °F/h (15 °C/h) for cone 6 is 2165 °F: the law is 6.3 °C off', () => {
    expect(chartCone('6')!.at27_F).toBe(2165);
    expect(Math.abs(endPoint_C(lawFor('6'), 15) - celsiusFromFahrenheit(2165))).toBeLessThan(6.8);
  });

  test('one and the same E of 500 kJ/mol for all cones is twice as far off, so the check can fail', () => {
    const flat = (law: ConeLaw): ConeLaw => {
      const same = { ...law, activation_J_mol: 500_000 };
      return { ...same, rate_per_s: law.rate_per_s / workOf(same, ramp(60, law.chart.at60_C)) };
    };
    expect(rms(errorsAt15(read.map(flat)))).toBeGreaterThan(2 * 5.8); // 13.0
    expect(rms(errorsAt15(remembered.map(flat)))).toBeGreaterThan(2 * 7.3); // 22.0
  });

  // The °F columns were read on another page than the °C ones below cone 08: a check on the reading itself.
  test('108 and 270 °F/h are 60 and 150 °C/h, and the °F columns say the same', () => {
    for (const cone of CONE_CHART) {
      if (cone.at108_F === undefined) continue;
      expect(Math.abs(celsiusFromFahrenheit(cone.at108_F) - cone.at60_C)).toBeLessThan(0.6);
      expect(Math.abs(celsiusFromFahrenheit(cone.at270_F!) - cone.at150_C)).toBeLessThan(0.6);
    }
  });

  test('temperature between rates is nearly linear in the log of the rate: cone 6 at 100 °C/h is 1233.7 °C', () => {
    expect(Math.abs(endPoint_C(lawFor('6'), 100) - 1233.7)).toBeLessThan(0.5);
  });

  test('cone 10 is about 2350 °F (common practice, no source)', () => {
    expect(Math.abs(endPoint_C(lawFor('10'), 60) - celsiusFromFahrenheit(2350))).toBeLessThan(5);
  });

  // The older single-column chart has cone 6 at 1222 °C for 150 °C/h, the current one for 60 °C/h.
  test('charts are not mixed: 1222 °C at 150 °C/h is not cone 6', () => {
    expect(heatWork(ramp(60, 1222.1)).reached).toBe('6');
    expect(heatWork(ramp(150, 1222.1)).reached).toBe('5');
  });
});

describe('activation energies', () => {
  // Kissinger's relation on the chart's two rates, worked by hand for the self-supporting cones
  test.each([
    ['04', 929],
    ['4', 750],
    ['5', 755],
    ['7', 936],
    ['8', 780],
    ['9', 881],
    ['10', 911],
  ])('cone %s: about %i kJ/mol', (cone, E) => {
    // whole degrees (or whole °F) of the chart move E by up to 5 %
    expect(Math.abs(lawFor(cone).activation_J_mol / 1000 / E - 1)).toBeLessThan(0.05);
  });

  test('cone 6 from 15 to 60 °C/h: 651 kJ/mol', () => {
    const E = activationFromTwoRates(kelvinFromCelsius(1185), kelvinFromCelsius(1222), 4);
    expect(Math.abs(E / 1000 / 651 - 1)).toBeLessThan(0.01);
  });
});

/** Cone 6 as one law of a given E through 1222 °C at 60 °C/h. */
const coneSixWith = (activation_J_mol: number): ConeLaw => {
  const law = { ...lawFor('6'), activation_J_mol, reference_K: kelvinFromCelsius(1222) };
  return { ...law, rate_per_s: law.rate_per_s / workOf(law, ramp(60, 1222)) };
};
/** Minutes of hold at the top of a 60 °C/h ramp until the cone is down. */
const holdAfter60 = (law: ConeLaw, at_C: number): number =>
  (1 - workOf(law, ramp(60, at_C))) / workRate_per_s(law, kelvinFromCelsius(at_C)) / 60;

describe('holds count', () => {
  // Numeric integrals of exp(-E/RT) for 650 and 800 kJ/mol
  test.each([
    [650, 27.6, 73.8],
    [800, 22.5, 88.8],
  ])(
    'E = %i: a 60 °C/h ramp to cone 6 is worth %d min at 1222 °C; from 1186 °C cone 6 takes %d min',
    (E, whole, hold) => {
      const law = coneSixWith(E * 1000);
      expect(Math.abs(1 / workRate_per_s(law, kelvinFromCelsius(1222)) / 60 - whole)).toBeLessThan(0.06);
      expect(Math.abs(holdAfter60(law, 1186) - hold)).toBeLessThan(0.06);
    },
  );

  test('our own cone 6 after a 60 °C/h ramp to 1186 °C (cone 5) wants 74 to 89 min, inside the "1 to 2 h" from memory', () => {
    const minutes = holdAfter60(lawFor('6'), 1186);
    expect(minutes).toBeGreaterThan(74);
    expect(minutes).toBeLessThan(89);
  });

  test('the time a whole ramp is worth is near R T²/(E b)', () => {
    const T = kelvinFromCelsius(1222);
    const closed = (GAS_CONSTANT_J_molK * T * T) / 800_000 / (60 / 60);
    expect(closed).toBeCloseTo(23.2, 1);
    expect(Math.abs(1 / workRate_per_s(coneSixWith(800_000), T) / 60 / closed - 1)).toBeLessThan(0.04);
  });

  test('a hold may be written as a ramp that goes nowhere, and a ramp cut in pieces is the same ramp', () => {
    const law = lawFor('9');
    const whole = workOf(law, heat([0, 20], [10, 1240], [11, 1240], [14, 600]));
    const cut = workOf(
      law,
      heat([0, 20], [5, 630], [10, 1240], [10.5, 1240], [11, 1240], [12, 1240 - 640 / 3], [14, 600]),
    );
    expect(cut / whole).toBeCloseTo(1, 9);
  });

  test('the exact integral against a plain sum of a second at a time', () => {
    const law = lawFor('10');
    const history = heat([0, 1000], [2, 1270], [2.2, 1270], [3, 1000]);
    let sum = 0;
    for (let s = 0.5; s < 3 * 3600; s++) {
      const h = s / 3600;
      const t = h < 2 ? 1000 + 135 * h : h < 2.2 ? 1270 : 1270 - (270 * (h - 2.2)) / 0.8;
      sum += workRate_per_s(law, kelvinFromCelsius(t));
    }
    expect(Math.abs(workOf(law, history) / sum - 1)).toBeLessThan(1e-5);
  });
});

// A worked example against it: cone 7 by 60 and by 150 °C/h, areas of about 12,600 and 5,200 °C·h (a forum post).
test('area under the curve is not heat-work: the same cone, areas 2.4 to 1', () => {
  const area_Ch = (rate: number, to_C: number): number => ((to_C - 17) / rate) * ((to_C + 17) / 2 - 17);
  const seven = lawFor('7');
  const slow = workOf(seven, ramp(60, 1239));
  const fast = workOf(seven, ramp(150, 1257));
  expect(slow / fast).toBeCloseTo(1, 2);
  expect(area_Ch(60, 1239) / area_Ch(150, 1257)).toBeGreaterThan(2.3);
  // and the other way about: equal areas, cones far apart
  const long = heat([0, 20], [2, 620], [22, 620], [24, 20]);
  const short = heat([0, 20], [10, 1290], [20, 20]);
  const area = ({ time_s, temperature_K }: TemperatureHistory): number =>
    time_s.reduce(
      (a, t, i) =>
        i === 0 ? 0 : a + ((t - time_s[i - 1]!) * (temperature_K[i]! + temperature_K[i - 1]! - 586.3)) / 2,
      0,
    );
  expect(area(long) / area(short)).toBeGreaterThan(1);
  expect(CONE_CHART.findIndex(({ cone }) => cone === heatWork(long).reached)).toBeLessThan(5);
  expect(heatWork(short).reached).toBe('10');
});

describe('the bend', () => {
  // From start of bending to end 15 to 25 min (maker's chart), over less than 22 °C
  test.each(['6', '8', '9', '10'])('cone %s at 60 °C/h takes 15 to 25 min and less than 22 °C', (cone) => {
    const law = lawFor(cone);
    const end_C = endPoint_C(law, 60);
    let start_C = end_C;
    while (bendOf(workOf(law, ramp(60, start_C))) > 0) start_C -= 0.1;
    expect(end_C - start_C).toBeGreaterThan(15); // 1 °C a minute
    expect(end_C - start_C).toBeLessThan(22);
  });

  // Fitted to this, so no proof of the law; the times above are.
  test('10 degrees of arc are about 5 °C early and 1 °C late, cone 10 at 60 °C/h (Reimbold & Strick)', () => {
    const law = lawFor('10');
    const at = (bend: number): number => {
      let t = 1230;
      while (bendOf(workOf(law, ramp(60, t))) < bend) t += 0.01;
      return t;
    };
    expect(Math.abs(at(10 / 90) - at(1e-6) - 5)).toBeLessThan(0.3);
    expect(Math.abs(at(1) - at(80 / 90) - 1)).toBeLessThan(0.1);
  });
});

describe('the trade says', () => {
  test.each([
    [560, 'below cone 022, the softest on the chart'],
    [1262, 'cone 9'],
    [1273, 'cone 9, a quarter to cone 10'],
    [1279, 'cone 9, half way to cone 10'],
    [1282.5, 'cone 9, three quarters to cone 10'],
    [1284.5, 'cone 9, nearly cone 10'],
    [1400, 'beyond cone 14, the hardest on the chart'],
  ])('60 °C/h to %d °C: %s', (to_C, text) => {
    expect(heatWork(ramp(60, to_C)).text).toBe(text);
  });

  test('and says how good the reading is, and when it leans on figures from memory', () => {
    expect(heatWork(ramp(60, 1262)).how).not.toContain('memory');
    expect(heatWork(ramp(60, 1290)).how).toContain('memory'); // cone 11 is next
  });

  test('the demo schedule comes to cone 10', () => {
    const json = JSON.parse(readFileSync('examples/cone-10-slow.schedule.json', 'utf8'));
    const seen = heatWork(temperatureHistory(parseSchedule(json)));
    expect(seen.reached).toBe('10');
    expect(seen.cones.find((c) => c.cone === '11')!.bend).toBeLessThan(0.5);
  });
});
