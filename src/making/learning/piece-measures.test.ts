import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { forgeHere } from '../../cli/forge.ts';
import { wasmEngine } from '../../kernel/numerics/wasm-engine.ts';
import { ofCorners } from '../../kernel/shell/soft-shape.ts';
import { parseClay } from '../clay/clay.ts';
import { clayHistory } from '../clay/clay-history.ts';
import { fire } from '../firing/fire.ts';
import { setOnShelf } from '../firing/placed.ts';
import { Setting } from '../firing/setting.ts';
import { parseForm } from '../form/form.ts';
import { parseSchedule, temperatureHistory } from '../kiln/schedule.ts';
import { expected } from './expected.ts';
import { pieceFilm } from './piece-film.ts';
import { measuresOf } from './piece-measures.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));
const history = clayHistory(clay, temperatureHistory(schedule));
const cylinder = parseForm(example('small-plain-cylinder.form.json'));
const forge = forgeHere();
const engine = forge && wasmEngine(forge);
const finish = <T>(run: Generator<unknown, T, void>): T => {
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};

const KEYS = [
  'height',
  'widest',
  'lip greatest',
  'lip least',
  'lip mean',
  'lip oval',
  'drop greatest',
  'drop mean',
  'drop at 45',
  'lean x',
  'outline top',
  'outline at 40',
];
const input = (attitude: Setting['attitude']) => ({
  form: cylinder,
  clay,
  schedule,
  setting: Setting.parse({ attitude }),
});

test('a cylinder that only shrank measures what it was drawn: 40 mm radius, 90 mm high, as thrown', () => {
  const piece = setOnShelf({ ...input('upright'), triangles: 4000, care: 'quick' }, 4000);
  const wall = ofCorners(piece.mesh.triangles, piece.mesh.thickness_m);
  const dry = 1 - clay.dryingShrinkage.value_percent / 100;
  const scale = 1 - clay.firingShrinkage.value_percent / 100;
  const m = measuresOf(piece, piece.down.positions, wall, scale, { keys: KEYS, from_deg: 30 });
  const across = 80 * dry * scale;
  // polygons inside the circle: a thousandth; the lip's edge is mid-wall, so that is where its outside is counted from
  expect(Math.abs(m['lip mean'] / across - 1)).toBeLessThan(3e-3);
  expect(Math.abs(m['outline at 40'] / across - 1)).toBeLessThan(5e-3);
  expect(Math.abs(m.height / (90 * dry * scale) - 1)).toBeLessThan(2e-3);
  expect(m['lip oval']).toBeLessThan(0.005 * across);
  for (const key of ['drop greatest', 'drop mean', 'drop at 45', 'lean x'])
    expect(Math.abs(m[key])).toBeLessThan(1e-9);
});

test('what the lip is pressed to is found: an ellipse, a tilt and a shift put in by hand', () => {
  const piece = setOnShelf({ ...input('upright'), triangles: 4000, care: 'quick' }, 4000);
  const wall = ofCorners(piece.mesh.triangles, piece.mesh.thickness_m);
  const lip = new Set(piece.mesh.lipNodes);
  const p = piece.down.positions.slice();
  const before = measuresOf(piece, p, wall, 1, { keys: KEYS, from_deg: 0 });
  for (const n of lip) {
    const [x, y] = [p[3 * n], p[3 * n + 1]];
    p[3 * n] = 1.1 * x + 0.004;
    p[3 * n + 1] = 0.9 * y;
    // down by 2 mm, and by 1 mm more towards +y
    p[3 * n + 2] -= 0.002 + 0.001 * (y / Math.hypot(x, y));
  }
  const after = measuresOf(piece, p, wall, 1, { keys: [...KEYS, 'drop at 90', 'drop at 270'], from_deg: 0 });
  const width = before['lip mean'] - 1000 * piece.mesh.thickness_m[piece.mesh.lipNodes[0]];
  expect(after['lip oval'] / (0.2 * width)).toBeCloseTo(1, 1);
  expect(after['drop mean']).toBeCloseTo(2, 2);
  expect(after['drop greatest']).toBeCloseTo(3, 2);
  expect(after['drop at 90']).toBeCloseTo(3, 2);
  expect(after['drop at 270']).toBeCloseTo(1, 2);
  expect(after['lean x']).toBeCloseTo(4, 2);
});

test('the film at its middle is the firing itself; further on it is that of a softer clay', () => {
  const wish = { keys: ['drop greatest', 'widest', 'height'], from_deg: 0 };
  const film = finish(pieceFilm(input('on its side'), history, 0.6, wish, engine, 900));
  const softer = {
    ...clay,
    sagViscosity: { ...clay.sagViscosity, value_Pa_s: clay.sagViscosity.value_Pa_s / 1.5 },
  };
  for (const [c, ln] of [
    [clay, 0],
    [softer, Math.log(1.5)],
  ] as const) {
    const { estimates } = finish(
      fire({ ...input('on its side'), clay: c, triangles: 900, care: 'full' }, engine),
    );
    // the film steps more boldly, and its pores close by the first clay's clock: a few per cent of the drop
    const drop = 1000 * estimates.lipDrop_m.value;
    expect(Math.abs(expected(film, 'drop greatest')(ln, 0) / drop - 1)).toBeLessThan(0.04);
    expect(Math.abs(expected(film, 'widest')(ln, 0) - 1000 * estimates.widest_m.value)).toBeLessThan(
      0.05 * drop,
    );
  }
});

test('sizes a share larger: a height grows by it, a drop loses that much of the height it is measured at', () => {
  const wish = { keys: ['drop greatest', 'height'], from_deg: 0 };
  const film = finish(pieceFilm(input('upright'), history, 0.1, wish, engine, 600));
  const [height, drop] = [expected(film, 'height'), expected(film, 'drop greatest')];
  expect(height(0, 0.01) / height(0, 0)).toBeCloseTo(Math.exp(0.01), 9);
  // a lip 77 mm up, all of it 1 % larger than the file has it, stands 0.77 mm higher than "shrinkage alone" says
  expect(drop(0, 0.01) - drop(0, 0)).toBeCloseTo(-0.77, 1);
});
