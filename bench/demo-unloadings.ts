/**
 * The demo studio's unloadings: our own forms fired with a clay and two kilns whose truth is stated here, each wall
 * thrown a little otherwise than drawn, measured with errors by dice. Written to examples/. Run by hand:
 * npx tsx bench/demo-unloadings.ts [seed = 7]
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { forgeHere } from '../src/cli/forge.ts';
import { normalQuantile } from '../src/kernel/numerics/normal.ts';
import { wasmEngine } from '../src/kernel/numerics/wasm-engine.ts';
import { parseClay } from '../src/making/clay/clay.ts';
import { clayHistory } from '../src/making/clay/clay-history.ts';
import { hotterBy } from '../src/making/clay/temperature-history.ts';
import { Setting } from '../src/making/firing/setting.ts';
import { parseForm } from '../src/making/form/form.ts';
import { parseSchedule, temperatureHistory } from '../src/making/kiln/schedule.ts';
import { learnFromUnloading } from '../src/making/learning/learn.ts';
import { pieceFilm } from '../src/making/learning/piece-film.ts';
import { newLearningLog } from '../src/making/learning/start.ts';
import { type Measured, parseUnloading } from '../src/making/learning/unloading.ts';
import { parseSetting } from '../src/making/setting-file.ts';
import { dice } from '../test/dice.ts';

/** The truth: the clay half again as soft as its file guesses, one kiln hot, the other a little cool. */
const SOFTER = 1.5;
const SMALLER = -0.004;
const KILNS = { 'Front kiln': 7, 'Small kiln': -4 } as const;
const FIRING_SD_K = 2.3;
const WALL_SD = 0.05;
const HAND_SD_mm = 0.4;
const SIZE_SD = 0.008;
const OVAL_SD = 0.003;
const FINE = 3000;

type Kiln = keyof typeof KILNS;
type Cast = readonly [form: string, attitude: Setting['attitude']];
const TUBE: Cast = ['lobed-tube', 'on its side'];
const CUP: Cast = ['oval-faceted-cup', 'on its side'];
const CYLINDER: Cast = ['small-plain-cylinder', 'on its side'];
const BOWL: Cast = ['wide-shallow-bowl', 'upright'];
const BOWL_DOWN: Cast = ['wide-shallow-bowl', 'rim down'];
const CUP_DOWN: Cast = ['oval-faceted-cup', 'rim down'];
const VASE: Cast = ['tall-fluted-vase', 'upright'];
const FIRINGS: readonly (readonly [date: string, kiln: Kiln, pieces: readonly Cast[]])[] = [
  ['2026-03-14', 'Front kiln', [TUBE, BOWL, BOWL_DOWN, VASE]],
  ['2026-04-25', 'Small kiln', [CYLINDER, CUP_DOWN, BOWL]],
  ['2026-06-06', 'Front kiln', [TUBE, CUP, BOWL_DOWN]],
  ['2026-07-18', 'Small kiln', [CUP, TUBE, BOWL]],
  ['2026-09-12', 'Front kiln', [CYLINDER, BOWL, BOWL_DOWN, VASE]],
  ['2026-10-31', 'Small kiln', [TUBE, CUP_DOWN, CYLINDER]],
];

const seed = Number(process.argv[2] ?? 7);
const between = dice(Math.imul(seed, 2654435761));
for (let i = 0; i < 8; i++) between(0, 1);
const normal = (): number => normalQuantile(between(1e-6, 1 - 1e-6));

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../examples/${name}`, import.meta.url), 'utf8'));
const guessed = parseClay(example('studio-porcelain.clay.json'));
const clay = {
  ...guessed,
  sagViscosity: { ...guessed.sagViscosity, value_Pa_s: guessed.sagViscosity.value_Pa_s / SOFTER },
};
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));
const forge = forgeHere();
const engine = forge && wasmEngine(forge);
const KEYS = ['height', 'lip mean', 'lip oval', 'drop greatest'];
const tenth = (x: number): number => Number(x.toFixed(1));

const measured = ([name, attitude]: Cast, hotter_K: number): Measured => {
  const drawn = parseForm(example(`${name}.form.json`));
  const by = Math.exp(WALL_SD * normal());
  const form = { ...drawn, wall: drawn.wall.map((p) => ({ ...p, thickness_mm: p.thickness_mm * by })) };
  const history = clayHistory(clay, hotterBy(temperatureHistory(schedule), hotter_K));
  const wish = { keys: KEYS, from_deg: 0 };
  const setting = Setting.parse({ attitude });
  const run = pieceFilm({ form, clay, schedule, setting }, history, 0, wish, engine, FINE);
  let r = run.next();
  while (!r.done) r = run.next();
  const { readings, levers } = r.value;
  const size = Math.exp(SMALLER);
  const at = (key: string): number => size * (readings[key].at(-1) as number) - (size - 1) * levers[key];
  const hand = (): number => HAND_SD_mm * normal();
  const lip = at('lip mean') * (1 + SIZE_SD * normal());
  const oval = at('lip oval') + OVAL_SD * lip * normal();
  const [wide, narrow] = [tenth(lip + oval / 2 + hand()), tenth(lip - oval / 2 + hand())];
  return {
    plusMinus_mm: 0.5,
    height_mm: tenth(at('height') * (1 + SIZE_SD * normal()) + hand()),
    lipWidth: { greatest_mm: Math.max(wide, narrow), least_mm: Math.min(wide, narrow) },
    // Of a piece standing on its rim the lip does not drop.
    ...(attitude !== 'rim down' && { lipDrop: { greatest_mm: tenth(at('drop greatest') + hand()) } }),
  };
};

const kit = {
  clay: guessed,
  schedule,
  form: (file: string) => parseForm(example(file)),
  setting: (file: string) => parseSetting(example(file)).setting,
};
let log = {
  ...newLearningLog(guessed, temperatureHistory(schedule)),
  note: 'Invented, as the unloadings it learned from.',
};
let number = 101;
for (const [i, [date, kiln, cast]] of FIRINGS.entries()) {
  const hotter_K = KILNS[kiln] + FIRING_SD_K * normal();
  const file = {
    afterfire: 'unloading/1',
    name: `${kiln}, firing ${i + 1}`,
    note: `Invented, for trying things out: fired by the solver with a clay ${SOFTER} times as soft as its file says, ${-100 * SMALLER} % smaller, ${kiln} ${KILNS[kiln]} °C off; walls, sizes and measuring err by dice (seed ${seed}).`,
    kiln,
    date,
    clay: 'studio-porcelain.clay.json',
    schedule: 'cone-10-slow.schedule.json',
    pieces: cast.map((c) => ({
      number: String(number++),
      form: `${c[0]}.form.json`,
      setting: { attitude: c[1] },
      measured: measured(c, hotter_K),
    })),
  };
  const from = `${date}-${kiln.split(' ')[0].toLowerCase()}.unloading.json`;
  writeFileSync(new URL(`../examples/${from}`, import.meta.url), `${JSON.stringify(file, null, 2)}\n`);
  const run = learnFromUnloading(log, parseUnloading(file), kit, { id: date, date, from }, engine);
  let r = run.next();
  while (!r.done) r = run.next();
  log = { ...log, ...r.value.log };
  console.log(from, r.value.entry.contradictions);
}
writeFileSync(
  new URL('../examples/studio-porcelain.learning.json', import.meta.url),
  `${JSON.stringify(log, null, 2)}\n`,
);
