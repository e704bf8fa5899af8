/**
 * A record of 20,000 pieces and 200,000 entries: how long opening, the start page and searches take, and how much memory.
 * Run: npx tsx bench/big-studio.ts [pieces] [seed]. Each figure is taken in a fresh process.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ROOT } from '../scripts/tools.ts';
import { record } from '../src/store/journal.ts';
import { listPieces } from '../src/store/pieces.ts';
import { piecesToCsv } from '../src/store/pieces-csv.ts';
import { closeRecord, newRecord, openRecord, soundnessOf } from '../src/store/record.ts';
import { search } from '../src/store/search.ts';
import { familyOf } from '../src/store/series.ts';
import { startPage } from '../src/store/start-page.ts';
import { rebuildStates } from '../src/store/states.ts';
import { fillBig } from '../test/big-record.ts';
import { dice } from '../test/dice.ts';

const NOW = '2026-06-01T10:00:00.000Z';
const SEARCHES = [
  'C-00042',
  '42',
  'november 2012',
  '2012-11',
  'gallery harbour',
  'lantern 7',
  'thin shoulder',
  'cracked',
  'firing 77',
  'n',
  'sold',
  'wrapped 2019',
  'nothingofthekind',
];

interface Took {
  readonly worst_ms: number;
  readonly median_ms: number;
  /** Processor time of one, which other programs on the machine do not lengthen. */
  readonly cpu_ms: number;
}

const took = (times: number, work: () => unknown): Took => {
  const walls: number[] = [];
  const before = process.cpuUsage();
  for (let i = 0; i < times; i++) {
    const start = performance.now();
    work();
    walls.push(performance.now() - start);
  }
  const { user, system } = process.cpuUsage(before);
  walls.sort((a, b) => a - b);
  const tenth = (x: number): number => Math.round(10 * x) / 10;
  return {
    worst_ms: tenth(walls[times - 1]),
    median_ms: tenth(walls[Math.floor(times / 2)]),
    cpu_ms: tenth((user + system) / 1000 / times),
  };
};

const look = (path: string): void => {
  const start = performance.now();
  const { db } = openRecord(path);
  const opening = performance.now() - start;
  const firstPage = took(1, () => startPage(db, NOW));
  const sinceProcessStart_ms = performance.now();
  const pages = took(20, () => startPage(db, NOW));
  const searches = Object.fromEntries(SEARCHES.map((text) => [text, took(5, () => search(db, text))]));
  const list = took(5, () => listPieces(db));
  const family = took(3, () => familyOf(db));
  const { id: piece } = listPieces(db, { stage: 'drying' }, 1)[0];
  const writing = took(20, () =>
    record(db, [{ at_utc: NOW, zone: 'UTC', piece, kind: 'noted', note: 'x' }], NOW),
  );
  const memory_MB = process.memoryUsage().rss / 1e6;
  const rest = {
    csv: took(1, () => piecesToCsv(db)),
    check: took(1, () => soundnessOf(db)),
    rebuild: took(1, () => rebuildStates(db)),
  };
  console.log(
    JSON.stringify({
      opening,
      sinceProcessStart_ms,
      firstPage,
      pages,
      searches,
      list,
      family,
      writing,
      memory_MB,
      machineLoad: loadavg()[0],
      rest,
      peak_MB: process.resourceUsage().maxRSS / 1e3,
    }),
  );
  db.close();
};

const self = fileURLToPath(import.meta.url);

const main = (pieces: number, seed: number): void => {
  const folder = mkdtempSync(join(tmpdir(), 'afterfire-big-'));
  try {
    const path = join(folder, 'big.sqlite');
    const made = newRecord(path);
    const form = JSON.parse(readFileSync(join(ROOT, 'examples', 'small-plain-cylinder.form.json'), 'utf8'));
    const start = performance.now();
    const counts = fillBig(made.db, dice(seed), pieces, form, NOW);
    closeRecord(made);
    console.log(
      JSON.stringify({
        seed,
        ...counts,
        filled_s: (performance.now() - start) / 1000,
        file_MB: statSync(path).size / 1e6,
      }),
    );
    const run = spawnSync(process.execPath, ['--import', 'tsx', self, '--look', path], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    console.log(run.stdout);
    if (run.status !== 0) process.exitCode = 1;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const [, , first, second] = process.argv;
if (first === '--look') look(second);
else main(Number(first ?? 20_000), Number(second ?? 20261125));
