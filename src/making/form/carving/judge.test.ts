import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { AfterfireError } from '../../../error.ts';
import { parseForm } from '../form.ts';
import { Form } from '../form-shape.ts';
import { carvingOutlines } from './carving-outlines.ts';

const example = (name: string): object => JSON.parse(readFileSync(`examples/${name}.form.json`, 'utf8'));
/** 80 × 90 mm, wall 3 mm, floor 4 mm. */
const cylinder = (...carving: object[]): object => ({ ...example('small-plain-cylinder'), carving });
const opening = (change: object = {}): object => ({
  kind: 'opening',
  outline: { motif: 'round' },
  width_mm: 12,
  height_mm: 12,
  along: 0.5,
  ...change,
});
const slot = (change: object): object => opening({ outline: { motif: 'slot' }, height_mm: 6, ...change });
const relief = (change: object): object => ({ ...opening(), kind: 'relief', depth_mm: 1, ...change });

/** What parseForm says, field by field; empty when it takes the form. */
const faultsOf = (json: object): Record<string, string> => {
  try {
    parseForm(json);
    return {};
  } catch (error) {
    if (!(error instanceof AfterfireError)) throw error;
    return Object.fromEntries(error.faults.map((f) => [f.field, `${f.value} | ${f.expected}`]));
  }
};

describe('carving that is refused, each by its name, its value and what would be right', () => {
  const cases: readonly [string, object, string, RegExp][] = [
    ['an open outline', opening({ outline: { path: 'M0 0 L9 0 L9 9' } }), '.outline.path', /M0 0 L9.*open/],
    ['no path at all', opening({ outline: { path: 'hello' } }), '.outline.path', /hello.*path data/],
    ['a bow tie', opening({ outline: { path: 'M0 0L9 9V0L0 9Z' } }), '.outline.path', /cross or touch/],
    ['over the lip', opening({ along: 0.97 }), '.along', /0\.97.*the lip; row 1 reaches 4\.3 mm too far up/],
    ['into the floor', opening({ along: 0.06 }), '.along', /0\.06.*the floor; row 1 .* too far down/],
    ['rows beyond the lip', opening({ rows: 9 }), '.along', /row 9 reaches 106 mm too far up/],
    ['thirty where there is room for twenty', opening({ count: 30 }), '', /above it .* falls off/],
    ['a slot longer than the way round', slot({ width_mm: 260 }), '', /above it .* falls off/],
    ['too thin a strut', opening({ count: 19 }), '', /copy \d+ in row 1.*1 mm of clay.*0\.7\d* mm stay/],
    ['too many', opening({ count: 400, rows: 50 }), '.count', /400.*1500/],
    [
      'a relief through the wall',
      relief({ depth_mm: 5 }),
      '.depth_mm',
      /5.*at most 2\.7 mm: the wall is 3 mm/,
    ],
    ['a relief over the lip', relief({ along: 0.97 }), '.along', /within the wall/],
    [
      'a ragged map',
      {
        kind: 'relief',
        map: [
          [0, 1],
          [0, 1, 0],
        ],
        depth_mm: 1,
        alongFrom: 0.1,
        alongTo: 0.9,
      },
      '.map[1]',
      /3 numbers.*2/,
    ],
    [
      'a map upside down',
      {
        kind: 'relief',
        map: [
          [0, 1],
          [1, 0],
        ],
        depth_mm: 1,
        alongFrom: 0.9,
        alongTo: 0.1,
      },
      '.alongTo',
      /0\.1.*more than alongFrom/,
    ],
  ];
  test.each(cases)('%s', (_, carving, field, words) => {
    const faults = faultsOf(cylinder(carving));
    expect(Object.keys(faults)).toEqual([`form.carving[0]${field}`]);
    expect(faults[`form.carving[0]${field}`]).toMatch(words);
  });
  test('two slots that meet on both sides cut the pot in two; a little shorter they do not', () => {
    const pair = (width_mm: number) => cylinder(slot({ width_mm }), slot({ width_mm, angle_deg: 180 }));
    expect(faultsOf(pair(118))).toEqual({});
    expect(Object.values(faultsOf(pair(124)))[0]).toMatch(/everything above it \(height .* falls off/);
  });
  test('an outline within another leaves an island: it falls out, and its size is told', () => {
    const path = 'M0 0h30v30h-30z M8 8h14v14h-14z';
    const faults = faultsOf(cylinder(opening({ outline: { path }, width_mm: 30, height_mm: 30 })));
    // 14 × 14 mm of wall.
    expect(faults['form.carving[0]']).toMatch(/a piece of (1\.9|2) cm² .* falls out/);
  });
  test('openings of two entries that overlap: the later is named, and what it meets', () => {
    const faults = faultsOf(cylinder(opening(), opening({ angle_deg: 6 })));
    expect(faults['form.carving[1]']).toMatch(/overlaps copy 1 in row 1 of carving\[0\]/);
  });
});

describe('outlines for the picture', () => {
  const of = (json: object) => carvingOutlines(Form.parse(json));
  test('a round of 12 mm lies on the outer face: 40 mm from the axis, 12 mm high, 12 mm round', () => {
    const [one] = of(cylinder(opening()));
    const n = one.points.length / 3;
    let [low, high, left, right] = [1, 0, 1, -1];
    for (let i = 0; i < n; i++) {
      const [x, y, z] = one.points.subarray(3 * i, 3 * i + 3);
      // 0.2 mm in front of it, so that the wall does not hide the line.
      expect(Math.hypot(x, y)).toBeCloseTo(0.0402, 6);
      [low, high] = [Math.min(low, z), Math.max(high, z)];
      [left, right] = [Math.min(left, Math.atan2(y, x)), Math.max(right, Math.atan2(y, x))];
    }
    expect(high - low).toBeCloseTo(0.012, 4);
    expect((right - left) * 0.0385).toBeCloseTo(0.012, 4);
  });
  test('only what is wrong is bad: two of nineteen too near one another, all of an open outline', () => {
    expect(of(cylinder(opening({ count: 8 }))).some((o) => o.bad)).toBe(false);
    expect(of(cylinder(opening({ count: 19 }))).filter((o) => o.bad)).toHaveLength(2);
    const mixed = of(cylinder(opening({ count: 3 }), opening({ along: 0.97, count: 2 })));
    expect(mixed.map((o) => [o.carving, o.bad])).toEqual([
      [0, false],
      [0, false],
      [0, false],
      [1, true],
      [1, true],
    ]);
    expect(of(cylinder(opening({ outline: { path: 'M0 0 L9 0 L9 9' } }))).map((o) => o.bad)).toEqual([true]);
  });
  test('over the lip too every point is a number', () => {
    for (const one of of(cylinder(opening({ along: 1, rows: 3 }))))
      expect(one.points.every(Number.isFinite)).toBe(true);
  });
});
