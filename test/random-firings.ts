import { AfterfireError } from '../src/error.ts';
import type { MakeEngine } from '../src/kernel/numerics/front-engine.ts';
import { nodeNormals, triangleAreas } from '../src/kernel/shell/geometry.ts';
import { parseClay } from '../src/making/clay/clay.ts';
import { fire } from '../src/making/firing/fire.ts';
import type { Firing, FiringInput } from '../src/making/firing/firing.ts';
import { setOnShelf } from '../src/making/firing/placed.ts';
import { distanceAt } from '../src/making/firing/props/obstacles.ts';
import type { Distance } from '../src/making/firing/props/prop.ts';
import { Setting } from '../src/making/firing/setting.ts';
import { parseForm } from '../src/making/form/form.ts';
import { parseSchedule } from '../src/making/kiln/schedule.ts';
import { chance, dice, oneOf, type Throw, whole } from './dice.ts';

/**
 * Pieces nobody would think of, from the dice: thrown within what hands do, then altered, carved, uneven, and set in any way
 * the kiln allows. What must hold of every one of them when it is fired stands below.
 */
const someAlteration = (between: Throw): unknown =>
  oneOf(between, [
    () => ({
      kind: 'lobes',
      count: whole(between, 2, 16),
      depth: [
        { along: 0.1, depth_mm: between(-3, 3) },
        { along: 0.9, depth_mm: between(-5, 5) },
      ],
      roundness: between(0, 1),
      twist_deg: between(-120, 120),
    }),
    () => ({ kind: 'oval', longer_percent: between(0, 35) }),
    () => ({ kind: 'facets', count: whole(between, 3, 16), flatness: between(0, 1) }),
    () => ({
      kind: 'push',
      angle_deg: between(0, 360),
      along: between(0.3, 1),
      reach_mm: between(10, 40),
      depth_mm: between(-6, 6),
    }),
    () => ({ kind: 'cut lip', count: whole(between, 1, 8), depth_mm: between(0, 10) }),
  ])();

const placing = (between: Throw) => ({
  outline: { motif: oneOf(between, ['round', 'drop', 'leaf', 'slot', 'lozenge', 'arch']) },
  width_mm: between(6, 18),
  height_mm: between(8, 30),
  turn_deg: between(-60, 60),
  along: between(0.3, 0.75),
  angle_deg: between(0, 360),
  count: whole(between, 1, 7),
  rows: whole(between, 1, 2),
  staggered: chance(between, 0.5),
});

const someCarving = (between: Throw): unknown =>
  oneOf(between, [
    () => ({ kind: 'opening', ...placing(between) }),
    () => ({ kind: 'relief', ...placing(between), depth_mm: between(0.2, 1.2), bevel_mm: between(0.5, 4) }),
    () => ({
      kind: 'relief',
      map: Array.from({ length: 6 }, () => Array.from({ length: 8 }, () => between(0, 1))),
      depth_mm: between(0.2, 1.2),
      alongFrom: 0.25,
      alongTo: 0.8,
      count: whole(between, 1, 6),
    }),
  ])();

const someUneven = (between: Throw): unknown => ({
  offCentre_mm: between(0, 1),
  towards_deg: between(0, 360),
  callipers: Array.from({ length: whole(between, 0, 4) }, () => ({
    along: between(0.1, 0.95),
    angle_deg: between(-360, 360),
    thickness_mm: between(2.5, 6),
  })),
});

const someForm = (between: Throw): { form: unknown; height_mm: number; widest_mm: number } => {
  const points = whole(between, 2, 5);
  const size = between(0.6, 1.6);
  let height_mm = 0;
  let radius_mm = size * between(25, 60);
  let widest_mm = 0;
  const line = Array.from({ length: points }, (_, i) => {
    if (i > 0) {
      height_mm += size * between(20, 70);
      radius_mm = Math.max(15, radius_mm + size * between(-22, 25));
    }
    widest_mm = Math.max(widest_mm, radius_mm);
    return { radius_mm, height_mm };
  });
  const form = {
    afterfire: 'form/1',
    name: 'from the dice',
    sizes: 'thrown',
    line,
    wall: [
      { along: 0, thickness_mm: between(3.5, 7) },
      { along: 1, thickness_mm: between(2.2, 5) },
    ],
    foot: oneOf(between, [
      { kind: 'disc', thickness_mm: between(3.5, 8) },
      { kind: 'ring', thickness_mm: between(3.5, 6), width_mm: between(4, 9), recess_mm: between(2, 5) },
      { kind: 'none' },
    ]),
    alterations: Array.from({ length: whole(between, 0, 3) }, () => someAlteration(between)),
    carving: chance(between, 0.45) ? [someCarving(between)] : [],
    ...(chance(between, 0.4) ? { uneven: someUneven(between) } : {}),
  };
  return { form, height_mm, widest_mm };
};

/** Props fit for an attitude, with luck: a piece they pierce or do not hold is refused in words. */
const someProps = (between: Throw, attitude: string, height_mm: number, widest_mm: number): unknown[] => {
  const shrinks = chance(between, 0.3);
  if (attitude === 'leaning') return [{ kind: 'wall', shrinks }];
  if (attitude === 'on its side')
    return chance(between, 0.75)
      ? [-0.25, 0.25].map((x) => ({
          kind: 'saddle',
          x_mm: x * height_mm,
          length_mm: between(10, 25),
          hollowRadius_mm: widest_mm * between(0.9, 1.2),
          height_mm: between(5, 20),
          shrinks,
        }))
      : [{ kind: 'post', x_mm: 0, y_mm: widest_mm + 10, width_mm: 20, height_mm: widest_mm, shrinks }];
  if (attitude === 'rim down')
    return [
      { kind: 'hump', width_mm: widest_mm, height_mm: Math.max(5, height_mm * between(0.3, 0.9)), shrinks },
    ];
  return [
    {
      kind: 'ring',
      insideRadius_mm: widest_mm * between(0.3, 0.6),
      width_mm: between(15, 40),
      height_mm: between(5, 25),
      shrinks,
    },
  ];
};

const someSetting = (between: Throw, height_mm: number, widest_mm: number): unknown => {
  const attitude = oneOf(between, [
    'upright',
    'upright',
    'rim down',
    'on its side',
    'on its side',
    'leaning',
  ]);
  const propped = attitude === 'leaning' || chance(between, 0.4);
  return {
    attitude,
    turn_deg: between(0, 360),
    shelf: oneOf(between, ['slides', 'slides', 'grips']),
    ...(attitude === 'leaning' ? { lean_deg: between(15, 60) } : {}),
    ...(chance(between, 0.35) ? { friction: between(0, 1) } : {}),
    props: propped ? someProps(between, attitude, height_mm, widest_mm) : [],
    ...(chance(between, 0.25)
      ? { hotSide: { difference_C: between(0, 40), towards_deg: between(0, 360) } }
      : {}),
  };
};

export interface Cast {
  readonly form: unknown;
  readonly setting: unknown;
  readonly triangles: number;
  readonly care: 'quick' | 'full';
}

/** The piece of a number: always the same one. */
export const castOf = (seed: number): Cast => {
  const between = dice(7919 * seed + 17);
  for (let k = 0; k < 4; k++) between(0, 1);
  const { form, height_mm, widest_mm } = someForm(between);
  return {
    form,
    setting: someSetting(between, height_mm, widest_mm),
    triangles: whole(between, 900, 1500),
    care: chance(between, 0.1) ? 'full' : 'quick',
  };
};

/** What came of one piece. `faults` empty: it kept every promise, or was refused in words. */
export interface Fate {
  readonly seed: number;
  readonly kind: string;
  readonly told: string;
  readonly faults: readonly string[];
  readonly deepest_mm: number;
  readonly volume_percent: number;
  readonly seconds: number;
}

const rad = (deg: number): number => (deg * Math.PI) / 180;
/** Sharper than this against a neighbour, and by so much sharper than before, a triangle has folded over. */
const FOLDED_rad = rad(100);
const FOLDED_BY_rad = rad(45);

/** Triangles turned over: folded against most of their neighbours, where they were not before. */
export const turnedOver = (before: Float64Array, after: Float64Array, triangles: Uint32Array): number => {
  const unit = (p: Float64Array, t: number): readonly number[] => {
    const [a, b, c] = [0, 1, 2].map((k) => 3 * triangles[3 * t + k]);
    const u = [0, 1, 2].map((k) => p[b + k] - p[a + k]);
    const v = [0, 1, 2].map((k) => p[c + k] - p[a + k]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const l = Math.hypot(...n) || 1;
    return n.map((x) => x / l);
  };
  const sides = new Map<string, number>();
  const folds = new Float64Array(triangles.length / 3);
  const shared = new Float64Array(triangles.length / 3);
  for (let t = 0; t < triangles.length / 3; t++)
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[3 * t + k], triangles[3 * t + ((k + 1) % 3)]];
      const other = sides.get(`${b},${a}`);
      if (other === undefined) {
        sides.set(`${a},${b}`, t);
        continue;
      }
      const fold = (p: Float64Array): number =>
        Math.acos(
          Math.max(
            -1,
            Math.min(
              1,
              unit(p, t).reduce((s, x, i) => s + x * unit(p, other)[i], 0),
            ),
          ),
        );
      // Sharp flutes on few triangles stand near the bound from the start: one that moves by a degree has not turned over.
      const [was, is] = [fold(before), fold(after)];
      const folded = is > FOLDED_rad && is > was + FOLDED_BY_rad ? 1 : 0;
      for (const q of [t, other]) {
        shared[q]++;
        folds[q] += folded;
      }
    }
  return folds.reduce((n, f, t) => n + (f >= Math.max(1, shared[t] - 1) ? 1 : 0), 0);
};

const volumeOf = (p: Float64Array, triangles: Uint32Array, wall: Float64Array): number => {
  const areas = new Float64Array(triangles.length / 3);
  triangleAreas(p, triangles, areas);
  return areas.reduce(
    (sum, a, t) =>
      sum + (a * (wall[triangles[3 * t]] + wall[triangles[3 * t + 1]] + wall[triangles[3 * t + 2]])) / 3,
    0,
  );
};

/** Greatest depth of a shape in shelf and props, m: each node's middle less half its wall as it faces the support. */
const deepest = (
  positions: Float64Array,
  wall: Float64Array,
  triangles: Uint32Array,
  supports: readonly Distance[],
): number => {
  const normals = new Float64Array(positions.length);
  nodeNormals(positions, triangles, normals);
  const out = new Float64Array(4);
  let deep = 0;
  for (let n = 0; n < wall.length; n++)
    for (const d of supports) {
      d(positions[3 * n], positions[3 * n + 1], positions[3 * n + 2], out);
      const facing = Math.abs(
        out[0] * normals[3 * n] + out[1] * normals[3 * n + 1] + out[2] * normals[3 * n + 2],
      );
      deep = Math.max(deep, 0.5 * wall[n] * facing - out[3]);
    }
  return deep;
};

const shelf: Distance = (_x, _y, z, out) => {
  out[0] = out[1] = 0;
  out[2] = 1;
  out[3] = z;
};

const DEEPEST_mm = 0.1;
const LOST_percent = 0.5;

const judge = (
  firing: Firing,
  input: FiringInput,
): Pick<Fate, 'faults' | 'deepest_mm' | 'volume_percent'> => {
  const faults: string[] = [];
  const { triangles } = firing.dry;
  const { down } = setOnShelf(input, input.triangles);
  let deep = 0;
  let lost = 0;
  // Against the first frame, not the file's own walls: a frame tells the wall as means at nodes, and where the wall is cut in
  // steps such means hold up to 1.5 % less. What counts is that nothing is lost on the way.
  const [first] = firing.frames;
  const volume = volumeOf(first.positions, triangles, first.thickness_m) / first.linearScale ** 3;
  for (const f of firing.frames) {
    if (!f.positions.every(Number.isFinite) || !f.thickness_m.every((h) => h > 0)) {
      faults.push('not a number');
      break;
    }
    const scale = f.linearScale;
    const props = input.setting.props.map((p): Distance => {
      const d = distanceAt(p, down.origin_m);
      if (!p.shrinks) return d;
      return (x, y, z, out) => {
        d(x / scale, y / scale, z / scale, out);
        out[3] *= scale;
      };
    });
    deep = Math.max(deep, deepest(f.positions, f.thickness_m, triangles, [shelf, ...props]));
    lost = Math.max(
      lost,
      Math.abs(volumeOf(f.positions, triangles, f.thickness_m) / (volume * scale ** 3) - 1),
    );
  }
  const last = firing.frames[firing.frames.length - 1];
  const over = turnedOver(firing.dry.positions, last.positions, triangles);
  if (over > 0) faults.push(`${over} triangles turned over`);
  if (1000 * deep > DEEPEST_mm) faults.push(`${(1000 * deep).toFixed(2)} mm into a support`);
  if (100 * lost > LOST_percent) faults.push(`${(100 * lost).toFixed(2)} % of the volume`);
  if (!Object.values(firing.estimates).every((e) => Number.isFinite(e.value)))
    faults.push('an estimate is no number');
  if (!/^[A-Z].{5,}\.$/s.test(firing.verdict.text)) faults.push('no plain verdict');
  return { faults, deepest_mm: 1000 * deep, volume_percent: 100 * lost };
};

export interface Kitchen {
  readonly clay: FiringInput['clay'];
  readonly schedule: FiringInput['schedule'];
  /** Plain TypeScript where left out. */
  readonly engine?: MakeEngine;
}

export const kitchenOf = (clay: unknown, schedule: unknown): Kitchen => ({
  clay: parseClay(clay),
  schedule: parseSchedule(schedule),
});

/** Fires the piece of a number and judges it. Refusals are told in words; anything else thrown is a fault. */
export const fateOf = (seed: number, { clay, schedule, engine }: Kitchen): Fate => {
  const cast = castOf(seed);
  const begun = performance.now();
  const seconds = () => (performance.now() - begun) / 1000;
  try {
    const input: FiringInput = {
      form: parseForm(cast.form),
      clay,
      schedule,
      setting: Setting.parse(cast.setting),
      triangles: cast.triangles,
      care: cast.care,
    };
    const run = fire(input, engine);
    for (let r = run.next(); ; r = run.next()) {
      if (!r.done) continue;
      const { kind, text } = r.value.verdict;
      return { seed, kind, told: text, ...judge(r.value, input), seconds: seconds() };
    }
  } catch (error) {
    const refused = error instanceof AfterfireError;
    return {
      seed,
      kind: refused ? 'refused' : 'broke',
      told: String(error instanceof Error ? error.message : error),
      faults: refused ? [] : [`threw ${error}`],
      deepest_mm: 0,
      volume_percent: 0,
      seconds: seconds(),
    };
  }
};
