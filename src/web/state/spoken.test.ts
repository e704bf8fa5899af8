import { expect, test } from 'vitest';
import type { Work } from './page.ts';
import { faultSaid } from './spoken.ts';

const work = {
  form: { carving: [{ kind: 'opening' }] },
  setting: { props: [{ kind: 'post' }, { kind: 'saddle' }] },
} as unknown as Work;

test('faults are told by what one sees on the page, not by the path in a file', () => {
  const said = (field: string, value: string) => faultSaid({ field, value, expected: 'other' }, work);
  expect(said('setting.props[1]', 'too deep')).toBe('Prop 2 (saddle): too deep; right would be other');
  expect(said('form.carving[0].along', '2')).toBe('Carving 1 (opening): 2; right would be other');
  expect(said('setting.props', '[]')).toBe('What it stands on: nothing; right would be other');
  expect(said('setting.props', '"post, saddle": it tips')).toBe(
    'What it stands on: post, saddle: it tips; right would be other',
  );
  expect(said('setting.props', '"post": it tips; its weight stands over x -25 mm, y 0.0 mm')).toBe(
    'What it stands on: post: it tips; its weight stands over −25 mm along, 0.0 mm across; right would be other',
  );
  expect(said('form.line[2].radius_mm', '-1')).toBe('form.line[2].radius_mm: −1; right would be other');
});
