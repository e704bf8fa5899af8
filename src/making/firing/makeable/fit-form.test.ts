import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { type Form, parseForm } from '../../form/form.ts';
import { meshForm } from '../../form/mesh-form.ts';
import { type Fit, fitForm } from './fit-form.ts';
import { type Hand, handsOf, withHands } from './hands.ts';
import { lieOn, placesOf, surfaceOf } from './places.ts';
import { ringOf, type Target, targetOf } from './target.ts';
import { toHands } from './to-hands.ts';

const example = (name: string): Form => ({
  ...parseForm(
    JSON.parse(readFileSync(new URL(`../../../../examples/${name}.form.json`, import.meta.url), 'utf8')),
  ),
  sizes: 'thrown',
});

const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** The nodes of one form's mesh, moved to the same places of another, in metres. */
const shapeOf = (form: Form, truth: Form, triangles: number) => {
  const mesh = meshForm(form, { triangles, scale: 1 });
  const at = (of: Form) => {
    const p = new Float64Array(mesh.positions.length);
    const w = new Float64Array(mesh.along.length);
    lieOn(placesOf(mesh, surfaceOf(form, mesh.tooFine)), surfaceOf(of, mesh.tooFine), p, w);
    return { p, w };
  };
  const [to, from] = [at(truth), at(form)];
  // What the mesh adds to the bare surface (carving, mean walls) goes along.
  return {
    mesh,
    shape: {
      positions: mesh.positions.map((x, i) => x + (to.p[i] - from.p[i]) / 1000),
      thickness_m: mesh.thickness_m.map((h, i) => h + (to.w[i] - from.w[i]) / 1000),
      triangles: mesh.triangles,
    },
  };
};

const targetFor = (form: Form, truth: Form, triangles: number, turn = UPRIGHT): Target => {
  const { mesh, shape } = shapeOf(form, truth, triangles);
  return targetOf(mesh, form, shape, turn, 1000, new Float64Array(mesh.along.length).fill(1));
};

/** Every number changed by up to two steps of what a hand would. */
const changed = (hands: readonly Hand[]): number[] =>
  hands.map((h, j) => {
    const steps = ((j * 7) % 5) - 2;
    const step = h.field.startsWith('line') ? 1 : h.unit === '' ? 0.05 : h.grid;
    return Math.min(h.high, Math.max(h.low, h.value + steps * step));
  });

test.each([
  'small-plain-cylinder',
  'tall-fluted-vase',
  'oval-faceted-cup',
  'pierced-fluted-vase',
  'lobed-tube',
])(
  'identity: %s changed by known numbers is found again within 0.05 mm, amounts within a step of the hand',
  (name) => {
    const form = example(name);
    const hands = handsOf(form, meshForm(form, { triangles: 700, scale: 1 }).tooFine);
    const x = changed(hands);
    const fit = fitForm(form, targetFor(form, withHands(form, hands, x), 700));
    expect(fit.max_mm).toBeLessThan(0.05);
    fit.hands.forEach((h, j) => {
      // A point may slide along its own line, so that points are judged by the shape above.
      if (!h.field.startsWith('line')) expect(Math.abs(fit.x[j] - x[j]), h.field).toBeLessThan(h.grid);
    });
  },
);

test('a piece moved and turned as a whole is the same piece: nothing is off', () => {
  const form = example('oval-faceted-cup');
  const [c, s] = [Math.cos(0.3), Math.sin(0.3)];
  const { mesh, shape } = shapeOf(form, form, 600);
  const positions = shape.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const [x, z] = [positions[i], positions[i + 2]];
    positions[i] = c * x + s * z + 0.02;
    positions[i + 2] = c * z - s * x;
  }
  const target = targetOf(
    mesh,
    form,
    { ...shape, positions },
    UPRIGHT,
    1000,
    new Float64Array(mesh.along.length).fill(1),
  );
  const fit: Fit = fitForm(form, target, []);
  expect(fit.max_mm).toBeLessThan(0.01);
});

test('a tube pressed 4 mm oval asks for a squeeze of as much across, and only what whole per cents leave remains (plane geometry)', () => {
  const form = example('lobed-tube');
  const round: Form = { ...form, alterations: [] };
  const pressed: Form = {
    ...round,
    alterations: [
      {
        kind: 'lobes',
        count: 2,
        depth: [{ along: 0, depth_mm: 4 }],
        roundness: 1,
        twist_deg: 0,
        turn_deg: 90,
      },
    ],
  };
  const made = toHands(round, targetFor(round, pressed, 700));
  expect(made.added).toHaveLength(1);
  expect(made.free.rms_mm).toBeLessThan(0.06);
  // Half a per cent of 44 mm, as a wave.
  expect(made.fit.rms_mm).toBeLessThan(0.16);
  const [a] = made.form.alterations;
  // 4 mm from longest to shortest way of a radius near 44 mm: r·k - r/k = 4 gives k = 1.046.
  if (a.kind === 'oval') expect([a.longer_percent, a.turn_deg]).toEqual([5, 90]);
  else throw new Error(`expected an oval, got ${a.kind}`);
});

test('what is made is on the steps of the hands, and can be read back as a form', () => {
  const form = example('tall-fluted-vase');
  const hands = handsOf(form);
  const x = changed(hands).map((v, j) => (hands[j].unit === 'mm' ? v + 0.13 : v));
  const made = toHands(form, targetFor(form, withHands(form, hands, x), 700));
  expect(parseForm(JSON.parse(JSON.stringify(made.form)))).toEqual(made.form);
  for (const { radius_mm, height_mm } of made.form.line) {
    expect((2 * radius_mm) % 1).toBe(0);
    expect((2 * height_mm) % 1).toBe(0);
  }
  for (const { thickness_mm } of made.form.wall) expect(Math.abs((10 * thickness_mm) % 1)).toBeLessThan(1e-9);
  // Half a step at most for each: what rounding costs.
  expect(made.fit.rms_mm).toBeLessThan(0.25);
  expect(made.heldBack).toEqual([]);
});

test('what would have to go past the end is named, with the nearest that works', () => {
  const form = example('oval-faceted-cup');
  const flat = (flatness: number): Form => ({
    ...form,
    alterations: form.alterations.map((a) => (a.kind === 'facets' ? { ...a, flatness } : a)),
  });
  const made = toHands(flat(0.8), targetFor(flat(0.8), flat(1.3), 700));
  expect(made.limits).toContainEqual({ field: 'alterations[0].flatness', unit: '', value: 1, side: 'most' });
});

test('a piece on its foot that is 1 mm too tall is 1 mm too tall, and leaning it hides nothing', () => {
  // Plain geometry. Placed freely, half of it goes below the shelf and is not seen.
  for (const name of ['small-plain-cylinder', 'lobed-tube', 'wide-shallow-bowl', 'tall-fluted-vase']) {
    const form = example(name);
    const { mesh, shape } = shapeOf(form, form, 900);
    const top = shape.positions.reduce((most, x, i) => (i % 3 === 2 ? Math.max(most, x) : most), 0);
    const taller = {
      ...shape,
      positions: shape.positions.map((x, i) => (i % 3 === 2 ? x * (1 + 0.001 / top) : x)),
    };
    const all = new Float64Array(mesh.along.length).fill(1);
    const target = targetOf(mesh, form, taller, UPRIGHT, 1000, all, ringOf(mesh, 'upright'));
    expect(fitForm(form, target, []).max_mm).toBeGreaterThan(0.9);
  }
});
