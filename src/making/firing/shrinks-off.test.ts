import { expect, test } from 'vitest';
import { grid, type Point } from '../../../test/meshes.ts';
import { setOnProps } from './set-on-props.ts';
import { Setting } from './setting.ts';
import { shrinksOff } from './shrinks-off.ts';

/** Plain geometry: a foot of radius r shrinks to L·r about its middle; the opening of kiln furniture stays what it is. */
const RADIUS_m = 0.04;
const L = 0.9;
const foot = () => {
  const point = (u: number, v: number): Point => [
    RADIUS_m * Math.cos(2 * Math.PI * u),
    RADIUS_m * Math.sin(2 * Math.PI * u),
    0.1 * v,
  ];
  const g = grid(48, 10, point, true);
  return { ...g, thickness_m: new Float64Array(g.nodes).fill(2e-4) };
};
const told = (ring: object): readonly { field: string; value: string; expected: string }[] => {
  const setting = Setting.parse({
    attitude: 'upright',
    props: [{ kind: 'ring', width_mm: 30, height_mm: 12, ...ring }],
  });
  return shrinksOff(setOnProps(foot(), setting).body, setting, L);
};

test('a foot of 80 mm that shrinks to 72 stays on an opening of 66 mm and slips over one of 74', () => {
  expect(told({ insideRadius_mm: 33 })).toEqual([]);
  const [fault] = told({ insideRadius_mm: 37 });
  expect(fault.field).toBe('setting.props[0]');
  expect(fault.value).toContain('an opening of 74 mm; what stands on it shrinks to 72 mm across');
  expect(fault.expected).toContain('an opening of at most 68 mm');
});

test('a ring of the same clay shrinks along', () => {
  expect(told({ insideRadius_mm: 37, shrinks: true })).toEqual([]);
});
