/**
 * Our walls against a general-purpose finite-element program, CalculiX (ccx, from the distribution's packages): the same
 * problems, agreement at equal times, and time at equal accuracy. Written to docs/benchmark-calculix.md.
 * Run by hand (some twenty minutes, nearly all of it ccx): npx tsx bench/against-calculix.ts [problem id ...]
 */
import { writeFileSync } from 'node:fs';
import os from 'node:os';
import { pathToFileURL } from 'node:url';
import { deckOf, type Fineness } from './calculix/deck.ts';
import { runOurs, type ShellFineness } from './calculix/ours.ts';
import { PROBLEMS, type Reading, type WallProblem } from './calculix/problems.ts';
import { calculixVersion, runCalculix } from './calculix/solve.ts';

export interface Row {
  readonly problem: string;
  readonly what: string;
  /** Greatest difference of our converged figures from ccx's over all readings and times, as a part of ccx's. */
  readonly disagreement: number;
  /** The same of ccx's converged figures from the reference case, where there is one. */
  readonly deckAgainstReference: number | undefined;
  readonly ccx: Chosen;
  readonly ours: Chosen & { readonly coldSeconds: number };
  readonly ratio: number;
  readonly wantedRatio: number | undefined;
}

/** The coarsest rung within 1 % of the same program's own finest. */
interface Chosen {
  readonly settings: string;
  readonly seconds: number;
  /** How far it is from its own finest. */
  readonly off: number;
  readonly finest: string;
}

const GOOD = 0.01;

type Figures = readonly (readonly number[])[];
type Shape = Float64Array;

const figuresOf = (
  p: WallProblem,
  shapes: ReadonlyMap<number, Shape>,
  at: (i: number, j: number) => number,
  nu: number,
  nv: number,
): Figures =>
  p.readings.map((r: Reading) =>
    p.times_s.map((t) => {
      const found = [...shapes].find(([when]) => Math.abs(when - t) < 1e-5 * t);
      return found ? r.of(found[1], at, nu, nv) - r.zero_mm : Number.NaN;
    }),
  );

/** Greatest relative difference; missing figures count as wholly wrong. */
const apart = (a: Figures, b: Figures): number =>
  Math.max(...a.flatMap((row, r) => row.map((x, t) => (Number.isFinite(x) ? Math.abs(x / b[r][t] - 1) : 1))));

interface Ladder {
  readonly id: string;
  readonly wantedRatio?: number;
  /** Coarse to fine (elements u, v, through; increments); the last is taken for converged. */
  readonly solid: readonly (readonly [number, number, number, number])[];
  /** Coarse to fine (cells u, v; tolerance m); the last is taken for converged. */
  readonly shell: readonly (readonly [number, number, number])[];
}

const LADDERS: readonly Ladder[] = [
  {
    id: 'bar',
    wantedRatio: 20,
    solid: [
      [3, 1, 1, 12],
      [4, 1, 1, 12],
      [4, 1, 1, 25],
      [4, 1, 1, 50],
      [6, 2, 1, 50],
      [16, 4, 1, 300],
    ],
    shell: [
      [4, 1, 1e-3],
      [6, 1, 5e-4],
      [6, 2, 2e-4],
      [8, 2, 1e-4],
      [10, 2, 1e-4],
      [16, 3, 3e-5],
      [36, 6, 2e-6],
    ],
  },
  {
    id: 'disc clamped',
    wantedRatio: 20,
    solid: [
      [6, 2, 1, 12],
      [8, 3, 1, 25],
      [8, 3, 1, 50],
      [12, 4, 1, 50],
      [12, 4, 1, 100],
      [20, 6, 1, 200],
    ],
    shell: [
      [6, 6, 5e-5],
      [8, 8, 5e-5],
      [8, 8, 2e-5],
      [8, 8, 1e-5],
      [10, 10, 1e-5],
      [12, 12, 5e-6],
      [16, 16, 5e-6],
      [24, 24, 5e-6],
      [40, 40, 2e-6],
    ],
  },
  {
    id: 'disc resting',
    wantedRatio: 20,
    solid: [
      [4, 2, 1, 12],
      [6, 2, 1, 25],
      [6, 2, 1, 50],
      [8, 3, 1, 50],
      [8, 3, 1, 100],
      [16, 5, 1, 200],
    ],
    shell: [
      [6, 6, 5e-5],
      [8, 8, 5e-5],
      [8, 8, 2e-5],
      [8, 8, 1e-5],
      [10, 10, 1e-5],
      [12, 12, 5e-6],
      [16, 16, 5e-6],
      [24, 24, 5e-6],
      [36, 36, 2e-6],
    ],
  },
  {
    id: 'tube',
    wantedRatio: 50,
    solid: [
      [16, 3, 1, 25],
      [20, 3, 1, 40],
      [24, 4, 1, 50],
      [24, 4, 1, 100],
      [30, 4, 1, 100],
      [30, 6, 1, 100],
      [36, 6, 1, 100],
    ],
    shell: [
      [16, 4, 4e-4],
      [20, 5, 2e-4],
      [24, 6, 2e-4],
      [28, 7, 1e-4],
      [32, 8, 1e-4],
      [40, 10, 5e-5],
      [48, 12, 2e-5],
      [72, 18, 5e-6],
    ],
  },
  {
    id: 'dome',
    solid: [
      [6, 2, 1, 25],
      [8, 3, 1, 50],
      [12, 4, 1, 100],
      [12, 4, 1, 200],
      [16, 5, 1, 400],
    ],
    shell: [
      [12, 12, 4e-5],
      [16, 16, 2e-5],
      [20, 20, 1e-5],
      [28, 28, 5e-6],
      [36, 36, 2e-6],
      [48, 48, 1e-6],
      [64, 64, 5e-7],
    ],
  },
];

const solidRun = (p: WallProblem, [nu, nv, nw, increments]: Ladder['solid'][number]) => {
  const f: Fineness = { nu, nv, nw, increment_s: p.times_s[p.times_s.length - 1] / increments };
  const run = runCalculix(deckOf(p, f), nu, nv);
  const name = `${nu} × ${nv} × ${nw} bricks, steps of 1/${increments}`;
  return {
    seconds: run.seconds,
    figures: figuresOf(p, run.shapes, (i, j) => i + (nu + 1) * j, nu, nv),
    name,
  };
};

const shellRun = (p: WallProblem, [nu, nv, tolerance_m]: Ladder['shell'][number]) => {
  const f: ShellFineness = { nu, nv, tolerance_m };
  const run = runOurs(p, f);
  const name = `${run.triangles} triangles, ${(1e6 * tolerance_m).toPrecision(2)} µm a step`;
  return { seconds: run.seconds, figures: figuresOf(p, run.shapes, run.at, nu, nv), name };
};

/** Climbs a ladder from the coarse end to the first rung within 1 % of the finest. A rung that fails is passed over. */
const climb = <T, R extends { seconds: number; figures: Figures; name: string }>(
  rungs: readonly T[],
  run: (rung: T) => R,
): { chosen: R; finest: R; off: number; rung: T } => {
  const finest = run(rungs[rungs.length - 1]);
  say(`  ${finest.name}: ${finest.seconds.toFixed(2)} s, taken for converged`);
  for (const rung of rungs.slice(0, -1)) {
    let chosen: R;
    try {
      chosen = run(rung);
    } catch (error) {
      say(`  a rung stopped: ${String(error).split('\n')[0]}`);
      continue;
    }
    const off = apart(chosen.figures, finest.figures);
    say(`  ${chosen.name}: ${chosen.seconds.toFixed(2)} s, off by ${(100 * off).toFixed(2)} %`);
    if (off <= GOOD) return { chosen, finest, off, rung };
  }
  say('  no coarser rung is within 1 %: the finest stands for itself, and the ratio is no more than a bound');
  return { chosen: finest, finest, off: Number.NaN, rung: rungs[rungs.length - 1] };
};

const say = (text: string): void => console.log(text);

const compare = (ladder: Ladder): Row => {
  const p = PROBLEMS.find((q) => q.id === ladder.id) as WallProblem;
  say(`${p.id}: ccx`);
  const solid = climb(ladder.solid, (rung) => solidRun(p, rung));
  say(`${p.id}: ours`);
  const shell = climb(ladder.shell, (rung) => shellRun(p, rung));
  // Warm: the median of five; the first run in a fresh process is given beside it by hand where it matters.
  const warm = Array.from({ length: 5 }, () => shellRun(p, shell.rung).seconds).sort((a, b) => a - b)[2];
  const reference = p.readings.every((r) => r.reference_mm)
    ? apart(
        solid.finest.figures,
        p.readings.map((r) => (r.reference_mm as number[]).map((x) => x - r.zero_mm)),
      )
    : undefined;
  return {
    problem: p.id,
    what: p.what,
    disagreement: apart(shell.finest.figures, solid.finest.figures),
    deckAgainstReference: reference,
    ccx: {
      settings: solid.chosen.name,
      seconds: solid.chosen.seconds,
      off: solid.off,
      finest: solid.finest.name,
    },
    ours: {
      settings: shell.chosen.name,
      seconds: warm,
      coldSeconds: shell.chosen.seconds,
      off: shell.off,
      finest: shell.finest.name,
    },
    ratio: solid.chosen.seconds / warm,
    wantedRatio: ladder.wantedRatio,
  };
};

/**
 * Runs all problems (or those named) in both programs.
 * @returns a row a problem; none, and says so loudly, where ccx is not installed
 */
export const againstCalculix = (ids: readonly string[] = LADDERS.map((l) => l.id)): Row[] => {
  const version = calculixVersion();
  if (!version) {
    console.warn('SKIPPED: CalculiX (ccx) is not installed, so nothing is compared with it.');
    return [];
  }
  return LADDERS.filter((l) => ids.includes(l.id)).map(compare);
};

const percent = (x: number): string =>
  Number.isNaN(x) ? 'unknown: no coarser one was within 1 %' : `${(100 * x).toFixed(2)} %`;

/** The page: what was compared, how, and the table. */
export const calculixPage = (rows: readonly Row[]): string => `# Against CalculiX

Written by \`npx tsx bench/against-calculix.ts\` on ${os.cpus()[0].model.trim()}, Node ${process.version}, ${calculixVersion()} of ccx,
single-threaded (spooles), load average at the end ${os.loadavg()[0].toFixed(1)} (another job on the machine disturbs both alike).

The same wall in both: 20-node bricks of reduced integration with Norton creep of power 1 (the elastic part a few
ten-thousandths), against our shell triangles. Each is run at a ladder of finenesses; the finest is taken for converged, and
the time is that of the coarsest within 1 % of it in every figure at every time. *Agreement* is between the two
converged answers; *deck* is ccx's converged answer against the reference case (solid elements too), where there is one.
Ours is timed warm (median of five), in plain TypeScript unless said otherwise.

| problem | agreement | deck | ccx: coarsest within 1 % | s | ours: coarsest within 1 % | s | times faster | wanted |
|---|---|---|---|---|---|---|---|---|
${rows
  .map(
    (r) =>
      `| ${r.what} | ${percent(r.disagreement)} | ${r.deckAgainstReference === undefined ? '' : percent(r.deckAgainstReference)} | ${r.ccx.settings} (off ${percent(r.ccx.off)}) | ${r.ccx.seconds.toFixed(1)} | ${r.ours.settings} (off ${percent(r.ours.off)}) | ${r.ours.seconds.toFixed(3)} | ${r.ratio.toFixed(0)} | ${r.wantedRatio ?? ''} |`,
  )
  .join('\n')}

Taken for converged: ${rows.map((r) => `${r.problem}: ccx ${r.ccx.finest}, ours ${r.ours.finest}`).join('; ')}.
`;

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const ids = process.argv.slice(2);
  const rows = againstCalculix(ids.length > 0 ? ids : undefined);
  if (rows.length > 0) {
    const page = calculixPage(rows);
    console.log(page);
    if (ids.length === 0) writeFileSync(new URL('../docs/benchmark-calculix.md', import.meta.url), page);
  }
}
