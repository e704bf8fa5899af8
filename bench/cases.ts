import { readFileSync } from 'node:fs';
import { forgeHere } from '../src/cli/forge.ts';
import { type Forge, takeRoom } from '../src/kernel/numerics/forge.ts';
import type { MakeEngine } from '../src/kernel/numerics/front-engine.ts';
import { factorise } from '../src/kernel/numerics/multifrontal.ts';
import { wasmEngine } from '../src/kernel/numerics/wasm-engine.ts';
import { creep } from '../src/kernel/shell/creep.ts';
import { assemble, makeShellSystem } from '../src/kernel/shell/system.ts';
import { parseClay } from '../src/making/clay/clay.ts';
import { fire } from '../src/making/firing/fire.ts';
import type { Firing, FiringInput } from '../src/making/firing/firing.ts';
import { Setting } from '../src/making/firing/setting.ts';
import { parseForm } from '../src/making/form/form.ts';
import { parseSchedule } from '../src/making/kiln/schedule.ts';
import { grid, type Point } from '../test/meshes.ts';

/** What is measured, each in a process of its own (bench/run.ts), so that none profits from another's warmth or memory. */
export interface Measured {
  readonly seconds: number;
  readonly triangles: number;
  readonly [more: string]: number;
}

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));
const form = (name: string) => parseForm(example(`${name}.form.json`));

const finish = (input: FiringInput, engine?: MakeEngine): Firing => {
  const run = fire(input, engine);
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};

const secondsOf = (work: () => void): number => {
  const start = performance.now();
  work();
  return (performance.now() - start) / 1000;
};

const sorted = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);
const median = (values: readonly number[]): number => sorted(values)[values.length >> 1];

/** How the kernels are run: plain TypeScript, compiled with one thread, compiled with all there are. */
export type How = 'plain' | 'one' | 'all';

/** Waits for the helping threads, so that a measure does not hold their coming against them. */
const forgeFor = async (how: How): Promise<Forge | undefined> => {
  if (how === 'plain') return undefined;
  const forge = forgeHere(how === 'one' ? 0 : undefined);
  if (!forge) throw new Error('this machine has no compiled kernels');
  for (let k = 0; how === 'all' && forge.exports.threads() < 2 && k < 100; k++)
    await new Promise((r) => setTimeout(r, 20));
  return forge;
};

const RADIUS_m = 0.05;
const WALL_m = 0.0025;

/** The reference tube (radius 50 mm, wall 2.5 mm, length 150 mm) on its side. */
const tube = (around: number, along: number) => {
  const g = grid(
    around,
    along,
    (u, v): Point => [
      RADIUS_m * Math.sin(2 * Math.PI * u),
      0.15 * v,
      RADIUS_m + WALL_m / 2 - RADIUS_m * Math.cos(2 * Math.PI * u),
    ],
    true,
  );
  return { ...g, thickness_m: new Float64Array(g.triangles.length / 3).fill(WALL_m) };
};

/** Grids of the tube by about how many triangles they have. */
const TUBES: Readonly<Record<string, readonly [number, number]>> = {
  '5k': [54, 46],
  '6k': [60, 50],
  '20k': [116, 86],
  '50k': [184, 136],
};

/** Sinking on its side to half its height. */
const sideways = async (size: string, how: How): Promise<Measured> => {
  const forge = await forgeFor(how);
  const t = tube(...(TUBES[size] as [number, number]));
  let steps = 0;
  let factorisations = 0;
  let rounds = 0;
  let height = 0;
  const seconds = secondsOf(() => {
    const run = creep(
      {
        ...t,
        density_kg_m3: 2400,
        gravity_m_s2: 9.81,
        viscosity_Pa_s: 5e9,
        shelf: 'slides',
        held: new Uint8Array(0),
        duration_s: 6775,
      },
      { engine: forge && wasmEngine(forge) },
    );
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) {
        ({ steps, factorisations, iterations: rounds } = r.value);
        return;
      }
      const z = r.value.positions.filter((_, i) => i % 3 === 2);
      height = z.reduce((a, b) => Math.max(a, b), 0) - z.reduce((a, b) => Math.min(a, b), 1);
    }
  });
  return {
    seconds,
    triangles: t.triangles.length / 3,
    steps,
    factorisations,
    rounds,
    height_mm: 1000 * height,
  };
};

/** The fluted vase upright, whole firing with its sixteen trials, intervals and bands. */
const upright = async (size: string, how: How): Promise<Measured> => {
  const forge = await forgeFor(how);
  const engine = forge && wasmEngine(forge);
  let triangles = 0;
  const seconds = secondsOf(() => {
    triangles =
      finish(
        {
          form: form('tall-fluted-vase'),
          clay,
          schedule,
          setting: Setting.parse({ attitude: 'upright' }),
          triangles: 1000 * Number.parseInt(size, 10),
          care: 'full',
        },
        engine,
      ).dry.triangles.length / 3;
  });
  return { seconds, triangles };
};

/** A look while a hand drags: some 850 triangles, warm. */
const preview = async (which: string, how: How): Promise<Measured> => {
  const forge = await forgeFor(how);
  const engine = forge && wasmEngine(forge);
  const [name, attitude] = which.split(',');
  const f = form(name);
  const input: FiringInput = {
    form: f,
    clay,
    schedule,
    setting: Setting.parse({ attitude }),
    triangles: 850,
    care: 'quick',
  };
  let triangles = 0;
  for (let k = 0; k < 12; k++) triangles = finish(input, engine).dry.triangles.length / 3;
  const times = Array.from({ length: 21 }, () => secondsOf(() => void finish(input, engine)));
  return { seconds: median(times), triangles };
};

/** One factorisation of the tube's stiffness; the best of several, since others may take the machine. */
const factor = async (size: string, how: How): Promise<Measured> => {
  const forge = await forgeFor(how);
  const t = tube(...(TUBES[size] as [number, number]));
  const s = makeShellSystem(t.positions, t.triangles, forge && wasmEngine(forge));
  assemble(s, t.positions, t.thickness_m, { modulus: 3e9, poisson: 0.5 });
  const held = new Uint8Array(6 * s.nodes);
  for (let n = 0; n < s.nodes; n++)
    if (t.positions[3 * n + 1] < 1e-9) for (let c = 0; c < 6; c++) held[6 * s.rank[n] + c] = 1;
  const seconds = Math.min(
    ...Array.from({ length: 9 }, () => secondsOf(() => void factorise(s.factor, s.matrix, held))),
  );
  return { seconds, triangles: t.triangles.length / 3, GFs: s.factor.plan.flops / seconds / 1e9 };
};

/** Assembly of the tube's stiffness, best of several. */
const stiffness = async (size: string, how: How): Promise<Measured> => {
  const forge = await forgeFor(how);
  const t = tube(...(TUBES[size] as [number, number]));
  const s = makeShellSystem(t.positions, t.triangles, forge && wasmEngine(forge));
  const seconds = Math.min(
    ...Array.from({ length: 15 }, () =>
      secondsOf(() => assemble(s, t.positions, t.thickness_m, { modulus: 3e9, poisson: 0.5 })),
    ),
  );
  return { seconds, triangles: t.triangles.length / 3 };
};

/** The best dense product of the same compiled loops, one thread. */
const peak = async (): Promise<Measured> => {
  const forge = (await forgeFor('one')) as Forge;
  const at = takeRoom(forge, 64 * 128 + 8 * 96 * 32);
  new Float64Array(forge.memory.buffer, at, 16 * 64 + 4 * 8 * 96).fill(1e-9);
  const times = 200;
  const flops = 2 * 32 * 32 * 96 * times;
  const seconds = Math.min(
    ...Array.from({ length: 60 }, () => secondsOf(() => forge.exports.denseProduct(at, times))),
  );
  return { seconds, triangles: 0, GFs: flops / seconds / 1e9 };
};

export const CASES = { sideways, upright, preview, factor, stiffness, peak } as const;
