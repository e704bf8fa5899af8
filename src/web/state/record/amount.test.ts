import { expect, test } from 'vitest';
import { amountText, keptAmount, saysOf, shownAmount, type Units } from './amount.ts';

const METRIC: Units = { lengths: 'mm', weights: 'g', degrees: 'C', currency: 'EUR' };
const OTHER: Units = { lengths: 'in', weights: 'lb', degrees: 'F', currency: 'JPY' };

test('a pound is 0.45359237 kg and an inch 25.4 mm, exactly (NIST SP 811, appendix B)', () => {
  expect(keptAmount('weighed', 'weight_g', '1', OTHER)).toBe(453.59237);
  expect(keptAmount('measured', 'height_mm', '10', OTHER)).toBe(254);
  expect(shownAmount('weight_g', 453.59237, OTHER)).toBe('1');
});

test('money is kept in its smallest unit: two places for the euro, none for the yen (ISO 4217)', () => {
  expect(keptAmount('priced', 'price_minor', '240', METRIC)).toBe(24000);
  expect(keptAmount('priced', 'price_minor', '0.29', METRIC)).toBe(29);
  expect(keptAmount('priced', 'price_minor', '19,90', METRIC)).toBe(1990);
  expect(keptAmount('priced', 'price_minor', '240', OTHER)).toBe(240);
  expect(keptAmount('priced', 'price_minor', '1.005', METRIC)).toMatch(/2 places/);
  expect(amountText('price_minor', 1990, METRIC)).toMatch(/19[.,]90/);
});

test('nothing typed is nothing, words are named, and limits are told in the unit that is shown', () => {
  expect(keptAmount('weighed', 'weight_g', ' ', METRIC)).toBeUndefined();
  expect(keptAmount('weighed', 'weight_g', 'heavy', METRIC)).toBe('a number');
  expect(keptAmount('measured', 'height_mm', '5000', METRIC)).toBe('0.1 to 3000 mm');
  expect(saysOf('weighed', 'weight_g')).toBe('Weight');
  expect(saysOf('priced', 'price_minor')).toBe('Price asked');
});
