import { expect, test } from 'vitest';
import { frictionGuess } from './provenance.ts';
import { Setting } from './setting.ts';

const ring = { kind: 'ring', insideRadius_mm: 30, width_mm: 20, height_mm: 12 };
const told = (more: object): string =>
  frictionGuess(Setting.parse({ attitude: 'upright', props: [ring], ...more })).join(' ');

test('friction on props says that it is a guess until it is given, and when it is taken higher than given', () => {
  expect(told({})).toMatch(/a guess: .* 0\.4 /);
  expect(told({ friction: 0.3 })).toBe('');
  expect(told({ friction: 0.01 })).toMatch(/0\.05 .* not 0\.01: .* a guess/);
  expect(told({ props: [] })).toBe('');
});
