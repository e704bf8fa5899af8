import { expect, test } from 'vitest';
import { type Scale, scaleFor, toFile, toShown } from './scale.ts';

const own = (unit: string): Scale => ({ unit, times: 1, plus: 0, step: 5, places: 1 });

test('an inch is 25.4 mm (international inch, exact), and comes back as it was', () => {
  const inches = scaleFor(own('mm'), 'in', 'C');
  expect([inches.unit, toShown(63.5, inches), toFile(2.5, inches), toFile(0.1, inches)]).toEqual([
    'in',
    2.5,
    63.5,
    2.54,
  ]);
  expect(scaleFor(own('mm'), 'mm', 'F')).toEqual(own('mm'));
});

test('2350 °F in a file in °C and 1285 °C in a file in °F; a rate has no offset (definition of the scales)', () => {
  const shownF = scaleFor(own('°C'), 'mm', 'F');
  expect([shownF.unit, toShown(1285, shownF), toFile(2345, shownF)]).toEqual(['°F', 2345, 1285]);
  expect(toShown(toFile(2350, shownF), shownF)).toBeCloseTo(2350, 8);
  const shownC = scaleFor(own('°F'), 'mm', 'C');
  expect([shownC.unit, toFile(1285, shownC)]).toEqual(['°C', 2345]);
  expect(toShown(2345, shownC)).toBeCloseTo(1285, 9);
  const rate = scaleFor(own('°C/h'), 'mm', 'F');
  expect([rate.unit, toShown(100, rate), toFile(180, rate)]).toEqual(['°F/h', 180, 100]);
  expect(scaleFor(own('°F/h'), 'in', 'F')).toEqual(own('°F/h'));
});
