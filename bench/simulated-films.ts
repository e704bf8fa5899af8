/**
 * The films simulated studios are made of: each demo piece as the learner runs it, and three finer ones, with walls
 * thinner and thicker, as the truth. Run by hand when forms or solver change: npx tsx bench/simulated-films.ts
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { forgeHere } from '../src/cli/forge.ts';
import { wasmEngine } from '../src/kernel/numerics/wasm-engine.ts';
import { parseClay } from '../src/making/clay/clay.ts';
import { clayHistory } from '../src/making/clay/clay-history.ts';
import { Setting } from '../src/making/firing/setting.ts';
import { type Form, parseForm } from '../src/making/form/form.ts';
import { parseSchedule, temperatureHistory } from '../src/making/kiln/schedule.ts';
import type { FilmTable } from '../src/making/learning/learning-log.ts';
import { pieceFilm } from '../src/making/learning/piece-film.ts';
import { type DemoPiece, WALLS_LN } from '../test/simulated-studios.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));
const history = clayHistory(clay, temperatureHistory(schedule));
const forge = forgeHere();
const engine = forge && wasmEngine(forge);

const SET = [
  ['lobed-tube', 'on its side'],
  ['small-plain-cylinder', 'on its side'],
  ['oval-faceted-cup', 'on its side'],
  ['tall-fluted-vase', 'on its side'],
  ['wide-shallow-bowl', 'upright'],
  ['wide-shallow-bowl', 'rim down'],
  ['tall-fluted-vase', 'upright'],
  ['small-plain-cylinder', 'upright'],
  ['oval-faceted-cup', 'rim down'],
] as const;
const KEYS = ['height', 'lip mean', 'lip oval', 'drop greatest'];
const LEARNER_LN = 1.76;
const TRUTH_LN = 2.3;
const TRUTH_TRIANGLES = 3000;

const filmOf = (form: Form, attitude: string, mostLn: number, triangles?: number): FilmTable => {
  const setting = Setting.parse({ attitude });
  const wish = { keys: KEYS, from_deg: 0 };
  const run = pieceFilm({ form, clay, schedule, setting }, history, mostLn, wish, engine, triangles);
  let r = run.next();
  while (!r.done) r = run.next();
  return r.value;
};

const withWall = (form: Form, ln: number): Form => ({
  ...form,
  wall: form.wall.map((p) => ({ ...p, thickness_mm: p.thickness_mm * Math.exp(ln) })),
});

const pieces = SET.map(([name, attitude]): DemoPiece => {
  const form = parseForm(example(`${name}.form.json`));
  const learner = filmOf(form, attitude, LEARNER_LN);
  const truth = WALLS_LN.map((ln) => filmOf(withWall(form, ln), attitude, TRUTH_LN, TRUTH_TRIANGLES));
  console.log(`${name}, ${attitude}: followed to ${learner.reach}; ${truth.map((t) => t.reach).join(', ')}`);
  return { form: `${name}.form.json`, attitude, learner, truth: truth as unknown as DemoPiece['truth'] };
});
writeFileSync(new URL('../test/simulated-films.json', import.meta.url), JSON.stringify(pieces));
