import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import type { Deck } from './deck.ts';

export interface SolidRun {
  readonly seconds: number;
  /** Mid-surface positions at each time printed, 3 × corners of the elements in the order they are asked for. */
  readonly shapes: ReadonlyMap<number, Float64Array>;
}

const LONGEST_s = 3600;

/** The program's version line, or undefined where it is not installed. */
export const calculixVersion = (): string | undefined => {
  const said = spawnSync('ccx', ['-v'], { encoding: 'utf8' });
  return said.error ? undefined : (said.stdout.match(/Version\s+\S+/)?.[0] ?? 'Version unknown');
};

/** Runs a deck single-threaded in a folder of its own, which is removed. @throws Error where it did not finish */
export const runCalculix = (deck: Deck, nu: number, nv: number): SolidRun => {
  const folder = mkdtempSync(path.join(os.tmpdir(), 'afterfire-bench-'));
  try {
    writeFileSync(path.join(folder, 'wall.inp'), deck.text);
    const begun = performance.now();
    const said = spawnSync('ccx', ['-i', 'wall'], {
      cwd: folder,
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      timeout: 1000 * LONGEST_s,
      env: { ...process.env, OMP_NUM_THREADS: '1', CCX_NPROC_EQUATION_SOLVER: '1' },
    });
    const seconds = (performance.now() - begun) / 1000;
    if (said.status !== 0 || /\*ERROR/.test(said.stdout))
      throw new Error(`ccx stopped: ${said.stdout.split('\n').slice(-12).join('\n')}`);
    return { seconds, shapes: readShapes(readFileSync(path.join(folder, 'wall.dat'), 'utf8'), deck, nu, nv) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** Displacements of the printed table ("... and time  0.1300000E+04", then number ux uy uz). */
const readShapes = (dat: string, deck: Deck, nu: number, nv: number): Map<number, Float64Array> => {
  const where = new Map<number, number[]>();
  for (let j = 0; j <= nv; j++)
    for (let i = 0; i <= nu; i++) {
      const n = deck.mid(i, j);
      where.set(n, [...(where.get(n) ?? []), i + (nu + 1) * j]);
    }
  const shapes = new Map<number, Float64Array>();
  let now: Float64Array | undefined;
  for (const line of dat.split('\n')) {
    const head = line.match(/displacements.*time\s+([0-9.E+-]+)/);
    if (head) {
      now = new Float64Array(3 * (nu + 1) * (nv + 1));
      shapes.set(Number(head[1]), now);
      continue;
    }
    const [n, ...u] = line.trim().split(/\s+/).map(Number);
    const at = where.get(n);
    const from = deck.start.get(n);
    if (!now || at === undefined || !from || u.length !== 3) continue;
    for (const k of at) for (let c = 0; c < 3; c++) now[3 * k + c] = from[c] + u[c];
  }
  return shapes;
};
