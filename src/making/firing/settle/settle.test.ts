import { describe, expect, test } from 'vitest';
import { grid, type Point } from '../../../../test/meshes.ts';
import { distanceAt } from '../props/obstacles.ts';
import { Prop } from '../props/table.ts';
import { setOnProps, shelf } from '../set-on-props.ts';
import { Setting } from '../setting.ts';
import { bodyOf, touchesOf } from './body.ts';
import { nearestInCone } from './nearest-in-cone.ts';
import { freeWay } from './placing.ts';
import { settle } from './settle.ts';

/** An open tube of this radius and height, very thin, standing on z = 0, m. */
const tube = (radius: number, height: number, around = 64, up = 20) => {
  const g = grid(
    around,
    up,
    (u, v): Point => [radius * Math.cos(2 * Math.PI * u), radius * Math.sin(2 * Math.PI * u), height * v],
    true,
  );
  return { ...g, thickness_m: new Float64Array(g.nodes).fill(2e-4) };
};

const set = (wall: ReturnType<typeof tube>, setting: object) => setOnProps(wall, Setting.parse(setting));

describe('the nearest point that passes nothing', () => {
  test('a weight between two faces leaning by ±a is borne by W / (2 cos a) each (statics of a V)', () => {
    for (const deg of [20, 45, 70]) {
      const a = (deg * Math.PI) / 180;
      const rows = Float64Array.of(Math.sin(a), Math.cos(a), -Math.sin(a), Math.cos(a));
      const found = nearestInCone(
        { rows, room: new Float64Array(2), width: 2 },
        Float64Array.of(0, -1),
        1e-9,
      );
      expect(Math.hypot(...(found?.u ?? [1]))).toBeLessThan(1e-6);
      for (const { push } of found?.pushing ?? []) expect(push).toBeCloseTo(1 / (2 * Math.cos(a)), 6);
      expect(found?.pushing.length).toBe(2);
    }
  });

  test('among many half-spaces it is the nearest point of all (every pair and single of faces tried)', () => {
    const n = 12;
    const rows = Float64Array.from({ length: 2 * n }, (_, i) => {
      const angle = 0.3 + (2.4 * ((i / 2) | 0)) / n;
      return i % 2 ? Math.sin(angle) : Math.cos(angle);
    });
    const room = Float64Array.from({ length: n }, (_, i) => 0.2 + 0.15 * Math.cos(3 * i));
    const target = Float64Array.of(-0.7, -1.2);
    const kept = (x: number, y: number) =>
      room.every((r, i) => rows[2 * i] * x + rows[2 * i + 1] * y + r >= -1e-9);
    let best = Infinity;
    const offer = (x: number, y: number) => {
      if (kept(x, y)) best = Math.min(best, Math.hypot(x - target[0], y - target[1]));
    };
    for (let i = 0; i < n; i++) {
      const off = rows[2 * i] * target[0] + rows[2 * i + 1] * target[1] + room[i];
      offer(target[0] - off * rows[2 * i], target[1] - off * rows[2 * i + 1]);
      for (let j = 0; j < i; j++) {
        const det = rows[2 * i] * rows[2 * j + 1] - rows[2 * j] * rows[2 * i + 1];
        offer(
          (-room[i] * rows[2 * j + 1] + room[j] * rows[2 * i + 1]) / det,
          (-room[j] * rows[2 * i] + room[i] * rows[2 * j]) / det,
        );
      }
    }
    const found = nearestInCone({ rows, room, width: 2 }, target, 1e-10);
    const u = found?.u ?? target;
    expect(Math.hypot(u[0] - target[0], u[1] - target[1])).toBeCloseTo(best, 6);
  });
});

test('a tube lowered towards a ball stops where plane geometry says', () => {
  const body = bodyOf(tube(0.03, 0.1));
  const ball = distanceAt(Prop.parse({ kind: 'hump', width_mm: 80, height_mm: 40 }), [0, 0]);
  for (let i = 2; i < body.positions.length; i += 3) body.positions[i] += 0.2;
  // The rim of radius 30 meets the ball of radius 40 at a height of √(40² - 30²), first with the middles of its 64 sides;
  // half its 0.2 mm wall, as far as that faces the ball, stands off.
  const rim = 0.03 * Math.cos(Math.PI / 64);
  const way = freeWay(body, ball, body.half_m.length, [0, 0, -1], 1);
  const exact = 0.2 - Math.sqrt((0.04 + 1e-4 * 0.75) ** 2 - rim ** 2);
  expect(Math.abs(way - exact)).toBeLessThan(2e-6);
});

describe('statics of what rests', () => {
  test('a tube in two narrow saddles hangs between their tips: √((r + e)² - across²) over them', () => {
    const saddle = { kind: 'saddle', length_mm: 24, hollowRadius_mm: 30, height_mm: 30 };
    const on = set(tube(0.04, 0.2, 128), {
      attitude: 'on its side',
      friction: 0.05,
      props: [-50, 50].map((x_mm) => ({ ...saddle, x_mm, y_mm: 3 })),
    });
    const [e, tip] = [0.002, Math.PI / 3];
    const across = (0.03 + e) * Math.sin(tip);
    const up = 0.06 - (0.03 + e) * Math.cos(tip);
    expect(on.settled.kind).toBe('rests');
    // The tube's outside is 0.1 mm of half wall further out, and a 128-gon between its corners 0.012 mm further in.
    expect(on.body.centre[2]).toBeCloseTo(up + Math.sqrt((0.0401 + e) ** 2 - across ** 2), 4);
    expect(on.body.centre[1] - 0.003).toBeLessThan(5e-4);
  });

  test('in a hollow wider than itself it rolls to the lowest place', () => {
    const saddle = { kind: 'saddle', length_mm: 24, hollowRadius_mm: 60, height_mm: 30, y_mm: 8 };
    const on = set(tube(0.04, 0.2), {
      attitude: 'on its side',
      friction: 0.05,
      props: [-50, 50].map((x_mm) => ({ ...saddle, x_mm })),
    });
    expect(on.settled.kind).toBe('rests');
    // As near as friction of 0.05 lets it: (60 - 40)·sin(atan 0.05) = 1 mm, and half a facet of a 64-gon, 2 mm.
    expect(Math.abs(on.body.centre[1] - 0.008)).toBeLessThan(3e-3);
    expect(on.body.centre[2]).toBeCloseTo(0.0701, 3);
    expect(on.tipsTo_rad).toBeUndefined();
  });

  test('a tube stands by itself up to atan(r / half height) and then goes over', () => {
    const wall = tube(0.04, 0.2);
    const leaning = (lean_deg: number) =>
      set(wall, { attitude: 'leaning', lean_deg, friction: 0.5, props: [{ kind: 'wall' }] });
    const exact = Math.atan2(40, 100);
    expect(leaning(15).rightsItself_rad).toBeCloseTo(exact, 2);
    const nowLeans = (lean_deg: number) => (Math.acos(leaning(lean_deg).body.turn[8]) * 180) / Math.PI;
    expect(nowLeans((exact * 180) / Math.PI - 1.5)).toBeLessThan(0.5);
    expect(nowLeans((exact * 180) / Math.PI + 1.5)).toBeGreaterThan(22);
  });

  test('the ladder: least friction at foot and wall is the root of a = m (b + m c) / (1 + m²)', () => {
    // W over the foot's edge by a, wall touched b above and c beyond that edge; both contacts just sliding
    // (statics of a ladder with the same friction at both ends, any textbook; moments about the foot).
    const [r, h] = [0.04, 0.2];
    for (const deg of [30, 38]) {
      const t = (deg * Math.PI) / 180;
      const a = (h / 2) * Math.sin(t) - r * Math.cos(t);
      const b = h * Math.cos(t);
      const c = h * Math.sin(t);
      let [low, high] = [0, 1];
      while (high - low > 1e-6) {
        const m = (low + high) / 2;
        if ((m * (b + m * c)) / (1 + m * m) > a) high = m;
        else low = m;
      }
      const on = set(tube(r, h), {
        attitude: 'leaning',
        lean_deg: deg,
        friction: 0.05,
        props: [{ kind: 'wall', away_mm: 70 }],
      });
      expect(on.settled.kind).not.toBe('rests');
      // Found by halving to 0.005; a thousandth of the weight may be left unbalanced.
      expect(Math.abs((on.enoughFriction ?? 9) - high)).toBeLessThan(0.008);
    }
  });

  test('rocking: a flat body on a ball of radius R leans by d / (R - h) where its weight is shifted by d; h > R: it goes', () => {
    // The rocking stone: rolled by an angle its weight at height h comes back as (R - h)·angle (from memory; by moments).
    const ball = distanceAt(Prop.parse({ kind: 'hump', width_mm: 120, height_mm: 60 }), [0, 0]);
    const leanWith = (h: number): { kind: string; lean: number } => {
      const g = grid(60, 60, (u, v): Point => [0.12 * (u - 0.5), 0.12 * (v - 0.5), 0.0601]);
      const body = bodyOf({ ...g, thickness_m: new Float64Array(g.nodes).fill(2e-4) });
      body.centre.set([2e-3, 0, 0.0601 + h]);
      const { kind } = settle(body, [shelf, ball], {
        friction: 1,
        axis: [0, 0, 1],
        mostLean_rad: 0.3,
        mostWay_m: 1,
        mostDrop_m: 1,
        mostMoves: 400,
      });
      return { kind, lean: Math.acos(body.turn[8]) };
    };
    const steady = leanWith(0.03);
    expect(steady.kind).toBe('rests');
    // By half the way between points, 1 mm of 60, the plate does not roll smoothly.
    expect(Math.abs(steady.lean - 0.002 / (0.06 - 0.03))).toBeLessThan(0.02);
    expect(leanWith(0.075).kind).toBe('tips');
  });
});

test('what touches is told once a support, nodes alone on the shelf and middles too on props', () => {
  const body = bodyOf(tube(0.04, 0.1, 32, 8));
  const touches = touchesOf(body, [shelf], 1e-5);
  expect(touches.length).toBe(32);
  for (const t of touches) expect(t.arm[2]).toBeCloseTo(-0.05, 6);
});
