/**
 * Figures of speed, printed and written to docs/benchmark.md. One machine, one run, nothing else running; compare
 * ratios, not milliseconds between machines. Run: npm run bench
 */
import { readFileSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import { creep } from '../src/kernel/shell/creep.ts';
import { parseClay } from '../src/making/clay/clay.ts';
import { fire } from '../src/making/firing/fire.ts';
import type { Firing, FiringInput } from '../src/making/firing/firing.ts';
import { Setting } from '../src/making/firing/setting.ts';
import { parseForm } from '../src/making/form/form.ts';
import { parseSchedule } from '../src/making/kiln/schedule.ts';
import { grid, type Point } from '../test/meshes.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));
const form = (name: string) => parseForm(example(`${name}.form.json`));

const finish = (input: FiringInput): Firing => {
  const run = fire(input);
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};

const seconds = (work: () => void): number => {
  const start = performance.now();
  work();
  return (performance.now() - start) / 1000;
};

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1];

/** The reference tube (radius 50 mm, wall 2.5 mm, length 150 mm) sinking on its side to half its height. */
const sideways = (
  around: number,
  along: number,
): { seconds: number; triangles: number; steps: number; height: number } => {
  const [R, h] = [0.05, 0.0025];
  const g = grid(
    around,
    along,
    (u, v): Point => [R * Math.sin(2 * Math.PI * u), 0.15 * v, R + h / 2 - R * Math.cos(2 * Math.PI * u)],
    true,
  );
  let steps = 0;
  let height = 0;
  const time = seconds(() => {
    const run = creep({
      ...g,
      thickness_m: new Float64Array(g.triangles.length / 3).fill(h),
      density_kg_m3: 2400,
      gravity_m_s2: 9.81,
      viscosity_Pa_s: 5e9,
      shelf: 'slides',
      held: new Uint8Array(0),
      duration_s: 6775,
    });
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) {
        steps = r.value.steps;
        return;
      }
      const z = r.value.positions.filter((_, i) => i % 3 === 2);
      height = z.reduce((a, b) => Math.max(a, b), 0) - z.reduce((a, b) => Math.min(a, b), 1);
    }
  });
  return { seconds: time, triangles: g.triangles.length / 3, steps, height };
};

const rows: string[] = [];
const say = (what: string, figure: string, wanted = ''): void => {
  rows.push(`| ${what} | ${figure} | ${wanted} |`);
  console.log(`${what.padEnd(74)} ${figure.padEnd(26)} ${wanted}`);
};

const preview = (name: string, attitude: Setting['attitude']): number => {
  const f = form(name);
  const input: FiringInput = {
    form: f,
    clay,
    schedule,
    setting: Setting.parse({ attitude }),
    triangles: 850,
    care: 'quick',
  };
  for (let k = 0; k < 8; k++) finish(input);
  return median(Array.from({ length: 15 }, () => seconds(() => void finish(input))));
};

const previews = [
  ['tall-fluted-vase', 'upright'],
  ['wide-shallow-bowl', 'rim down'],
  ['lobed-tube', 'on its side'],
  ['small-plain-cylinder', 'upright'],
] as const;
for (const [name, attitude] of previews)
  say(
    `preview, ${name}, ${attitude}, about 850 triangles, warm`,
    `${(1000 * preview(name, attitude)).toFixed(0)} ms`,
    '150 ms',
  );

const upright = (triangles: number): { seconds: number; triangles: number } => {
  let made = 0;
  const time = seconds(() => {
    made =
      finish({
        form: form('tall-fluted-vase'),
        clay,
        schedule,
        setting: Setting.parse({ attitude: 'upright' }),
        triangles,
        care: 'full',
      }).dry.triangles.length / 3;
  });
  return { seconds: time, triangles: made };
};

const sizes = [2000, 6000, 20000].map(upright);
for (const s of sizes)
  say(
    `whole firing, fluted vase upright, ${s.triangles} triangles, with intervals`,
    `${s.seconds.toFixed(1)} s`,
    s === sizes[1] ? '10 s' : '',
  );
const growth =
  Math.log(sizes[2].seconds / sizes[0].seconds) / Math.log(sizes[2].triangles / sizes[0].triangles);
say('time grows from 2k to 20k triangles, upright, as triangles to the power', growth.toFixed(2));

const sides = [
  [34, 30],
  [60, 50],
  [116, 86],
].map(([a, b]) => sideways(a, b));
for (const s of sides)
  say(
    `tube on its side to half its height, ${s.triangles} triangles, ${s.steps} steps`,
    `${s.seconds.toFixed(1)} s (to ${(1000 * s.height).toFixed(1)} mm)`,
    s === sides[1] ? '20 s' : '',
  );
const sideGrowth =
  Math.log(sides[2].seconds / sides[0].seconds) / Math.log(sides[2].triangles / sides[0].triangles);
say('time grows from 2k to 20k triangles, sideways, as triangles to the power', sideGrowth.toFixed(2));
say(
  'memory of the process after all of it (resident, peak)',
  `${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB`,
  '500 MB',
);

writeFileSync(
  new URL('../docs/benchmark.md', import.meta.url),
  `# Benchmark

Written by \`npm run bench\` on ${os.cpus().length} cores, ${os.cpus()[0].model.trim()}, Node ${process.version}. Plain TypeScript, one thread.
Compare the rows of one run with one another; milliseconds of another machine are another machine's.

| what | figure | wanted |
|---|---|---|
${rows.join('\n')}
`,
);
