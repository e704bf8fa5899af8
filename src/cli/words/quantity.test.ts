import { expect, test } from 'vitest';
import { quantityOf } from './quantity.ts';

test.each([
  ['height_m', 'height', 'mm', 0.1823, '182.3'],
  ['lipWidth_m', 'lip width', 'mm', 0.09, '90.0'],
  ['capacity_m3', 'capacity', 'ml', 0.000412, '412'],
  ['weight_kg', 'weight', 'g', 0.4126, '413'],
  ['contactArea_m2', 'contact area', 'cm²', 0.001, '10.0'],
  ['greatestSag_m', 'greatest sag', 'mm', -1e-9, '0.0'],
  ['porosity', 'porosity', '', 0.25, '0.25'],
])('%s reads %s in %s', (key, label, unit, value, told) => {
  const quantity = quantityOf(key);
  expect([quantity.label, quantity.unit, quantity.told(value)]).toEqual([label, unit, told]);
});

test('what could not be had is a dash, not NaN', () => {
  expect(quantityOf('height_m').told(Number.NaN)).toBe('–');
});
