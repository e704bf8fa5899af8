/**
 * Figures of speed, printed and written to docs/benchmark.md. One machine, one run, nothing else running; compare
 * ratios, not milliseconds between machines. Run: npm run bench (some six minutes; the rows against CalculiX take
 * twenty more and have a script of their own, bench/against-calculix.ts).
 */
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import os from 'node:os';
import { fileURLToPath } from 'node:url';
import { commandFile } from '../scripts/tools.ts';
import type { How, Measured } from './cases.ts';

const rows: string[] = [];
const say = (what: string, figure: string, wanted = '', met?: boolean): void => {
  const verdict = met === undefined ? '' : met ? 'met' : '**not met**';
  rows.push(`| ${what} | ${figure} | ${wanted} | ${verdict} |`);
  console.log(`${what.padEnd(74)} ${figure.padEnd(34)} ${wanted.padEnd(12)} ${verdict}`);
};

type Kept = Measured & { readonly peak_MB: number };

/** Runs one case in a fresh process. */
const measure = (name: string, size = '', how: How = 'all'): Kept => {
  const one = fileURLToPath(new URL('one.ts', import.meta.url));
  const run = spawnSync(process.execPath, [commandFile('tsx', 'tsx'), one, name, size, how], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  if (run.status !== 0) throw new Error(`${name} ${size} ${how} failed`);
  return JSON.parse(run.stdout) as Kept;
};

const s1 = (seconds: number): string => `${seconds.toFixed(seconds < 10 ? 2 : 1)} s`;
const ms = (seconds: number): string => `${(1000 * seconds).toFixed(0)} ms`;
const times = (ratio: number): string => `${ratio.toFixed(1)} ×`;
const growth = (a: Measured, b: Measured): number =>
  Math.log(b.seconds / a.seconds) / Math.log(b.triangles / a.triangles);

const kernels = (): void => {
  const peak = measure('peak');
  say('best dense product of the compiled loops, one thread', `${peak.GFs.toFixed(1)} GF/s`);
  for (const size of ['6k', '20k', '50k']) {
    const [plain, one, all] = (['plain', 'one', 'all'] as const).map((how) => measure('factor', size, how));
    say(
      `factorisation, ${plain.triangles} triangles: plain, compiled, all threads`,
      `${ms(plain.seconds)}, ${ms(one.seconds)}, ${ms(all.seconds)}`,
    );
    const [r1, r2] = [plain.seconds / one.seconds, plain.seconds / all.seconds];
    say('— compiled against plain, one thread', times(r1), '2.5 ×', r1 >= 2.5);
    say('— compiled against plain, all threads', times(r2), '4.5 ×', r2 >= 4.5);
    const share = one.GFs / peak.GFs;
    say(
      '— share of the best dense product, one thread',
      `${(100 * share).toFixed(0)} % (${one.GFs.toFixed(1)} GF/s)`,
      '60 %',
      share >= 0.6,
    );
  }
  const [plain, one, all] = (['plain', 'one', 'all'] as const).map((how) => measure('stiffness', '20k', how));
  say(
    `stiffness of ${plain.triangles} triangles: plain, compiled, all threads`,
    `${ms(plain.seconds)}, ${ms(one.seconds)}, ${ms(all.seconds)} (${times(plain.seconds / all.seconds)})`,
  );
};

const previews = (): void => {
  for (const which of [
    'tall-fluted-vase,upright',
    'wide-shallow-bowl,rim down',
    'lobed-tube,on its side',
    'small-plain-cylinder,upright',
  ]) {
    const m = measure('preview', which);
    say(
      `preview, ${which.replace(',', ', ')}, ${m.triangles} triangles, warm`,
      ms(m.seconds),
      '60 ms',
      m.seconds <= 0.06,
    );
  }
};

const firings = (): void => {
  const trials = measure('upright', '2k');
  say(
    `fluted vase upright, ${trials.triangles} triangles, with its 16 trials`,
    s1(trials.seconds),
    '10 s',
    trials.seconds <= 10,
  );
  const limits: Readonly<Record<string, number>> = { '5k': 2, '20k': 10, '50k': 90 };
  const stood: Kept[] = [];
  for (const [size, limit] of Object.entries(limits)) {
    const m = measure('upright', size);
    stood.push(m);
    say(
      `fluted vase upright, ${m.triangles} triangles, whole firing with intervals`,
      `${s1(m.seconds)}, ${m.peak_MB.toFixed(0)} MB`,
      `${limit} s`,
      m.seconds <= limit,
    );
  }
  say(
    'time grows from 5k to 50k triangles, upright, as triangles to the power',
    growth(stood[0], stood[2]).toFixed(2),
    '1.6',
    growth(stood[0], stood[2]) <= 1.6,
  );
  say(
    'memory of the 50k firing, peak',
    `${stood[2].peak_MB.toFixed(0)} MB`,
    '1024 MB',
    stood[2].peak_MB <= 1024,
  );
  const plain = measure('upright', '5k', 'plain');
  say(
    'the 5k firing in plain TypeScript',
    `${s1(plain.seconds)} (${times(plain.seconds / stood[0].seconds)})`,
  );
};

const onItsSide = (): void => {
  const limits: Readonly<Record<string, number | undefined>> = { '5k': undefined, '20k': 20, '50k': 90 };
  const sunk: Kept[] = [];
  for (const [size, limit] of Object.entries(limits)) {
    const m = measure('sideways', size);
    sunk.push(m);
    say(
      `tube on its side to half its height, ${m.triangles} triangles`,
      `${s1(m.seconds)}: ${m.steps} steps, ${m.factorisations} factors, ${m.rounds} rounds; to ${m.height_mm.toFixed(1)} mm; ${m.peak_MB.toFixed(0)} MB`,
      limit === undefined ? '' : `${limit} s`,
      limit === undefined ? undefined : m.seconds <= limit,
    );
  }
  say(
    'time grows from 5k to 50k triangles, sideways, as triangles to the power',
    growth(sunk[0], sunk[2]).toFixed(2),
    '1.6',
    growth(sunk[0], sunk[2]) <= 1.6,
  );
  const plain = measure('sideways', '5k', 'plain');
  say('the 5k tube in plain TypeScript', `${s1(plain.seconds)} (${times(plain.seconds / sunk[0].seconds)})`);
};

const began = os.loadavg()[0];
kernels();
previews();
firings();
onItsSide();

writeFileSync(
  new URL('../docs/benchmark.md', import.meta.url),
  `# Benchmark

Written by \`npm run bench\` on ${os.cpus().length} cores, ${os.cpus()[0].model.trim()}, Node ${process.version}; load of the machine
when it began: ${began.toFixed(1)}. Each row is a process of its own. Compare the rows of one run with one another;
milliseconds of another machine are another machine's.

| what | figure | wanted | |
|---|---|---|---|
${rows.join('\n')}

Tried for the factor and lost: single precision. Its dense product is twice as fast (42 against 21 GF/s), but a factor
made in it breaks the contact search (the tube on its side "falls" within its first steps); a copy of the factor in it,
for the solves alone, took 455 rounds of conjugate gradients where the factor itself takes 178 (20k, sideways).

Against a general-purpose program: [benchmark-calculix.md](benchmark-calculix.md).
`,
);
