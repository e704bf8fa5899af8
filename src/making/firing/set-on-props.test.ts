import { describe, expect, test } from 'vitest';
import { grid, type Point } from '../../../test/meshes.ts';
import { downOf, frictionOf, LEAST_FRICTION, setOnProps, USUAL_FRICTION } from './set-on-props.ts';
import { Setting } from './setting.ts';
import { propTrouble, standingTrouble } from './standing-trouble.ts';

const tube = (radius = 0.04, height = 0.2, around = 48, up = 20) => {
  const g = grid(
    around,
    up,
    (u, v): Point => [radius * Math.cos(2 * Math.PI * u), radius * Math.sin(2 * Math.PI * u), height * v],
    true,
  );
  return { ...g, thickness_m: new Float64Array(g.nodes).fill(2e-4) };
};

const troubleOf = (given: object) => {
  const setting = Setting.parse(given);
  return standingTrouble(setOnProps(tube(), setting), setting);
};
const saddle = { kind: 'saddle', length_mm: 24, hollowRadius_mm: 60, height_mm: 30 };
const lying = (...props: object[]) => ({ attitude: 'on its side', props });

describe('what stands', () => {
  const fine: Record<string, object> = {
    'on two saddles': lying({ ...saddle, x_mm: -50 }, { ...saddle, x_mm: 50 }),
    'on a ring setter': {
      attitude: 'upright',
      props: [{ kind: 'ring', insideRadius_mm: 30, width_mm: 20, height_mm: 12 }],
    },
    'on three posts': {
      attitude: 'upright',
      props: [0, 120, 240].map((deg) => ({
        kind: 'post',
        x_mm: 40 * Math.cos((deg * Math.PI) / 180),
        y_mm: 40 * Math.sin((deg * Math.PI) / 180),
        width_mm: 16,
        height_mm: 20,
      })),
    },
    'leaning on a wall': {
      attitude: 'leaning',
      lean_deg: 35,
      friction: 0.6,
      props: [{ kind: 'wall', away_mm: 80 }],
    },
  };
  for (const [name, setting] of Object.entries(fine))
    test(name, () => {
      expect(troubleOf(setting)).toEqual([]);
    });

  test('what a piece stands beside without touching changes nothing', () => {
    const beside = { attitude: 'upright', props: [{ kind: 'post', x_mm: 70, width_mm: 20, height_mm: 90 }] };
    const on = setOnProps(tube(), Setting.parse(beside));
    expect(on.body.centre[2]).toBeCloseTo(0.1, 6);
    expect(on.leant_rad).toBeLessThan(1e-9);
    // Half the side of a 48-gon inside the circle of its foot.
    expect(on.footing.margin).toBeCloseTo(0.04 * Math.cos(Math.PI / 48), 3);
  });
});

describe('what does not stand is said by its field, with what happens and what would help', () => {
  test('two walls nearer than the piece is wide pierce it: each by name, in mm', () => {
    const faults = troubleOf({
      attitude: 'upright',
      props: [
        { kind: 'wall', away_mm: 30 },
        { kind: 'wall', away_mm: 30, towards_deg: 180 },
      ],
    });
    expect(propTrouble(faults)).toEqual([0, 1]);
    for (const { value, expected } of faults) {
      expect(value).toMatch(/wall that stands \d+(\.\d)? mm deep/);
      expect(expected).toMatch(/mm further away or lower/);
    }
    // 80 mm between walls 60 mm apart: 20 mm too many in all.
    const deep = faults.map(({ value }) => Number(/([\d.]+) mm/.exec(value)?.[1]));
    expect(Math.abs(deep[0] + deep[1] - 20.2)).toBeLessThan(1.5);
  });

  test('on one saddle off its middle the heavy end goes down', () => {
    const [fault] = troubleOf(lying({ ...saddle, length_mm: 15, height_mm: 90, x_mm: 20 }));
    expect(fault.field).toBe('setting.props');
    expect(fault.value).toMatch(/tips foot end down; its weight stands over x 0(\.0)? mm/);
    expect(fault.expected).toMatch(/props under both ends/);
  });

  test('balanced on one hump it falls to a nudge', () => {
    const [fault] = troubleOf(lying({ kind: 'hump', width_mm: 60, height_mm: 20 }));
    expect(fault.value).toMatch(/a nudge tips it/);
  });

  test('laid over two humps it rolls off to one side', () => {
    const hump = { kind: 'hump', width_mm: 60, height_mm: 30 };
    const [fault] = troubleOf(lying({ ...hump, x_mm: -50 }, { ...hump, x_mm: 50 }));
    expect(fault.value).toMatch(/over to its (left|right)/);
  });

  test('leaning too little it rocks back, leaning on a slippery shelf it slides, and each is told its number', () => {
    const wall = [{ kind: 'wall' }];
    const [little] = troubleOf({ attitude: 'leaning', lean_deg: 10, friction: 0.5, props: wall });
    expect(little.field).toBe('setting.lean_deg');
    expect(little.expected).toContain('22°'); // atan(40/100) = 21.8°
    const [slides] = troubleOf({ attitude: 'leaning', lean_deg: 38, friction: 0.1, props: wall });
    expect(slides.value).toMatch(/slides away/);
    expect(Number(/at least ([\d.]+)/.exec(slides.expected)?.[1])).toBeGreaterThan(0.1);
  });
});

test('friction is as said, never less than a breath on props, and usual where nothing is said of props', () => {
  const post = { kind: 'post', width_mm: 20, height_mm: 20 };
  expect(frictionOf(Setting.parse({ attitude: 'upright' }))).toBeUndefined();
  expect(frictionOf(Setting.parse({ attitude: 'upright', friction: 0 }))).toBe(0);
  expect(frictionOf(Setting.parse({ attitude: 'upright', props: [post] }))).toBe(USUAL_FRICTION);
  expect(frictionOf(Setting.parse({ attitude: 'upright', friction: 0, props: [post] }))).toBe(LEAST_FRICTION);
});

test('a piece that only shrinks rises on furniture that does not, in its own dry lengths, and not on its own clay', () => {
  // A ring of 12 mm under a piece shrunk to 0.9 holds it 12/0.9 = 13.3 dry millimetres high.
  const lifted = (shrinks: boolean): number => {
    const setting = Setting.parse({
      attitude: 'upright',
      props: [{ kind: 'ring', insideRadius_mm: 20, width_mm: 30, height_mm: 12, shrinks }],
    });
    const down = downOf(setOnProps(tube(), setting), setting, 0.9);
    return 1000 * (down.shrunkOnly[2] - down.positions[2]);
  };
  expect(lifted(false)).toBeCloseTo(12 / 0.9 - 12, 2);
  expect(lifted(true)).toBeCloseTo(0, 4);
});
