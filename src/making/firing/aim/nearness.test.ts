import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseForm } from '../../form/form.ts';
import { meshForm } from '../../form/mesh-form.ts';
import { differenceOf, laidOn, sizesOf } from './nearness.ts';

const form = parseForm(
  JSON.parse(
    readFileSync(new URL('../../../../examples/small-plain-cylinder.form.json', import.meta.url), 'utf8'),
  ),
);
const { positions, triangles } = meshForm(form, { triangles: 300, scale: 1 });
const top = positions.reduce((a, x, i) => (i % 3 === 2 ? Math.max(a, x) : a), 0);
const stretched = (by: number): Float64Array => positions.map((x, i) => (i % 3 === 2 ? by * x : x));
const worst = (shape: Float64Array): number =>
  sizesOf(differenceOf(laidOn(shape, positions, 'on the shelf'), positions, triangles), () => true).max_m;

test('a straight tube 2 % too tall is 2 % of its height off at the lip: no placing and no normal hides it', () => {
  expect(worst(stretched(1.02)) / (0.02 * top)).toBeCloseTo(1, 3);
});

test('taller than wanted lies outside (+), shorter inside (-)', () => {
  const at = (by: number): number => {
    const d = differenceOf(stretched(by), positions, triangles);
    return d.reduce((a, x) => (Math.abs(x) > Math.abs(a) ? x : a), 0);
  };
  expect(at(1.02)).toBeGreaterThan(0);
  expect(at(0.98)).toBeLessThan(0);
});

test('slid and turned on the shelf it is the same piece', () => {
  const [c, s] = [Math.cos(0.3), Math.sin(0.3)];
  const away = positions.slice();
  for (let i = 0; i < away.length; i += 3) {
    away[i] = 0.02 + c * positions[i] - s * positions[i + 1];
    away[i + 1] = -0.01 + s * positions[i] + c * positions[i + 1];
  }
  expect(worst(away)).toBeLessThan(1e-12);
});
