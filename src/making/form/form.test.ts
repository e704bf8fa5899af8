import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { AfterfireError } from '../../error.ts';
import { Form, parseForm } from './form.ts';

type Draft = { [field: string]: unknown };

const cylinder = (): Draft => JSON.parse(readFileSync('examples/small-plain-cylinder.form.json', 'utf8'));

const faultsOf = (change: Draft): Record<string, readonly [string, string]> => {
  try {
    parseForm({ ...cylinder(), ...change });
  } catch (error) {
    if (!(error instanceof AfterfireError)) throw error;
    expect(error.code).toBe('bad-input');
    return Object.fromEntries(error.faults.map((f) => [f.field, [f.value, f.expected] as const]));
  }
  return {};
};

const line = (...points: [number, number][]) =>
  points.map(([radius_mm, height_mm]) => ({ radius_mm, height_mm }));

describe('what is wrong is named: field, value, what would be right', () => {
  const CASES: readonly [string, Draft, field: string, value: RegExp, expected: RegExp][] = [
    [
      'a field nobody knows',
      { colour: 'white' },
      'form.colour',
      /white/,
      /^no field of this name; the fields here are/,
    ],
    [
      'a length without its unit',
      { line: [{ radius_mm: 40, height: 0 }, ...line([40, 90])] },
      'form.line[0].height',
      /^0$/,
      /^no field of this name; did you mean height_mm\?$/,
    ],
    ['NaN', { line: line([40, 0], [40, Number.NaN]) }, 'form.line[1].height_mm', /NaN/, /a number/],
    [
      'Infinity',
      { line: line([40, 0], [Number.POSITIVE_INFINITY, 9]) },
      'form.line[1].radius_mm',
      /Inf/,
      /a number/,
    ],
    ['null', { wall: [{ along: 0, thickness_mm: null }] }, 'form.wall[0].thickness_mm', /null/, /a number/],
    ['under the shelf', { line: line([40, 0], [40, -5]) }, 'form.line[1].height_mm', /-5/, /at least 0/],
    ['in the air', { line: line([40, 5], [40, 90]) }, 'form.line[0].height_mm', /5/, /starts on the shelf/],
    [
      'a wall thicker than the radius',
      { wall: [{ along: 0, thickness_mm: 45 }] },
      'form.wall[0].thickness_mm',
      /45/,
      /less than 39.5 mm/,
    ],
    [
      'a line that crosses itself',
      { line: line([40, 0], [60, 60], [20, 50], [70, 20], [70, 90]) },
      'form.line',
      /crosses itself at radius/,
      /never meeting itself/,
    ],
    [
      'a wall list out of order',
      {
        wall: [
          { along: 0.5, thickness_mm: 3 },
          { along: 0.5, thickness_mm: 4 },
        ],
      },
      'form.wall[1].along',
      /0.5/,
      /more than 0.5/,
    ],
    [
      'metres for mm',
      { line: line([0.15, 0], [0.15, 0.28]) },
      'form.line',
      /0.3 mm at the largest/,
      /are these metres/,
    ],
    [
      'hollows through the axis',
      { alterations: [{ kind: 'lobes', count: 4, depth: [{ along: 0.5, depth_mm: 85 }] }] },
      'form.alterations[0]',
      /lobes/,
      /through the axis/,
    ],
    [
      'a dent through the axis, after a harmless oval',
      {
        alterations: [
          { kind: 'oval', longer_percent: 5 },
          { kind: 'push', angle_deg: 0, along: 0.5, reach_mm: 60, depth_mm: -45 },
        ],
      },
      'form.alterations[1]',
      /push/,
      /through the axis/,
    ],
    [
      'an alteration nobody knows',
      { alterations: [{ kind: 'bend' }] },
      'form.alterations[0].kind',
      /bend/,
      /lobes/,
    ],
    [
      'a foot ring wider than the foot',
      { foot: { kind: 'ring', thickness_mm: 4, width_mm: 60, recess_mm: 3 } },
      'form.foot.width_mm',
      /60/,
      /at most 39 mm/,
    ],
    [
      'a floor as high as the piece',
      { foot: { kind: 'disc', thickness_mm: 58 }, line: line([40, 0], [42, 60]) },
      'form.foot.thickness_mm',
      /58/,
      /nine tenths/,
    ],
    [
      'a lip cut to the floor',
      { alterations: [{ kind: 'cut lip', count: 3, depth_mm: 80 }] },
      'form.alterations[0].depth_mm',
      /80/,
      /at most 54 mm/,
    ],
    ['a file of another kind', { afterfire: 'clay/1' }, 'form.afterfire', /clay/, /form\/1/],
    [
      'a doubled point',
      { line: line([40, 0], [40, 50], [40, 50], [40, 90]) },
      'form.line[2]',
      /50/,
      /0.05 mm/,
    ],
  ];
  test.each(CASES)('%s', (_, change, field, value, expected) => {
    const faults = faultsOf(change);
    expect(Object.keys(faults)).toContain(field);
    expect(faults[field][0]).toMatch(value);
    expect(faults[field][1]).toMatch(expected);
  });
  test('no form at all', () => {
    expect(() => parseForm(null)).toThrow(/form: got null; expected a group of fields/);
    expect(() => parseForm([])).toThrow(/expected a group of fields/);
  });
  test('the untouched cylinder has nothing wrong', () => expect(faultsOf({})).toEqual({}));
});

test('a sharp shoulder is a shape, not a fault', () => {
  expect(faultsOf({ line: line([40, 0], [40, 60], [20, 60.5], [20, 90]) })).toEqual({});
});

test('what is left out takes its default', () => {
  expect(parseForm(cylinder()).alterations).toEqual([]);
});

test('the published schema is the one the program reads by', () => {
  const committed = JSON.parse(readFileSync('docs/schema/form.schema.json', 'utf8'));
  expect(committed).toEqual(JSON.parse(JSON.stringify(z.toJSONSchema(Form, { io: 'input' }))));
});
