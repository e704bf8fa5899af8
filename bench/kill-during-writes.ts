/**
 * A thousand writers of a record killed by SIGKILL at seeded random moments; every entry they acknowledged must be there
 * and the file sound, by our own look and by SQLite's own program. Run: npx tsx bench/kill-during-writes.ts [kills] [seed]
 */
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import { ROOT } from '../scripts/tools.ts';
import { chance, dice } from '../test/dice.ts';
import { killWriter, lookAfter } from '../test/killed-writers.ts';

const kills = Number(process.argv[2] ?? 1000);
const seed = Number(process.argv[3] ?? 20261125);
/** A fresh file now and then, so that making one is killed too. */
const KILLS_A_FILE = 20;

/** The writer in one file, so that a thousand starts take minutes. */
const buildWriter = async (): Promise<string> => {
  const outDir = join(ROOT, 'dist', 'bench');
  await build({
    root: ROOT,
    configFile: false,
    logLevel: 'warn',
    publicDir: false,
    build: { ssr: 'test/record-writer.ts', outDir, emptyOutDir: true, target: 'node20', minify: false },
  });
  return join(
    outDir,
    existsSync(join(outDir, 'record-writer.js')) ? 'record-writer.js' : 'record-writer.mjs',
  );
};

const writer = await buildWriter();
const between = dice(seed);
const folder = mkdtempSync(join(tmpdir(), 'afterfire-kill-'));
const total = {
  kills: 0,
  midway: 0,
  early: 0,
  acknowledged: 0,
  entries: 0,
  outside: 0,
  wrong: [] as string[],
};
const start = Date.now();
try {
  for (let file = 0; total.kills < kills; file++) {
    const path = join(folder, `${file}.sqlite`);
    const acknowledged: string[] = [];
    let entries = 0;
    for (let i = 0; i < KILLS_A_FILE && total.kills < kills; i++) {
      const early = chance(between, i === 0 ? 0.7 : 0.1);
      const after = early
        ? ({ from: 'start', ms: between(20, 350) } as const)
        : ({ from: 'entry', ms: between(0, 120) } as const);
      const one = [process.execPath, writer, path, String(seed * 10_000 + total.kills), '100000'];
      const { said, midway } = await killWriter(one, after);
      acknowledged.push(...said);
      total.kills++;
      total.midway += midway ? 1 : 0;
      total.early += early ? 1 : 0;
      if (!existsSync(path)) continue;
      const left = lookAfter(path, acknowledged);
      entries = left.entries;
      total.outside += left.outside ? 1 : 0;
      total.wrong.push(...left.wrong.map((wrong) => `kill ${total.kills}: ${wrong}`));
    }
    total.acknowledged += acknowledged.filter((line) => /^[ep] /.test(line)).length;
    total.entries += entries;
    for (const end of ['', '-wal', '-shm', '.photos'])
      rmSync(end === '.photos' ? path.replace('.sqlite', end) : path + end, { recursive: true, force: true });
    console.log(`${total.kills} kills, ${total.acknowledged} acknowledged, ${total.wrong.length} wrong`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
console.log(JSON.stringify({ seed, ...total, minutes: (Date.now() - start) / 60_000 }, null, 1));
if (total.wrong.length > 0 || total.midway < 0.9 * kills) process.exitCode = 1;
