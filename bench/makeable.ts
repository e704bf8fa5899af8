import { readdirSync, readFileSync } from 'node:fs';
import { engineHere } from '../src/cli/engine.ts';
import { parseClay } from '../src/making/clay/clay.ts';
import { aim } from '../src/making/firing/aim/aim.ts';
import { bestSetting } from '../src/making/firing/makeable/best-setting.ts';
import { makeable } from '../src/making/firing/makeable/makeable.ts';
import { Setting } from '../src/making/firing/setting.ts';
import { parseForm } from '../src/making/form/form.ts';
import { parseSchedule } from '../src/making/kiln/schedule.ts';

/**
 * How near what hands can make comes to each demo form, in three settings, as rows for docs/makeable.md:
 * `tsx bench/makeable.ts [triangles] [settings]`; with `settings` the best of all settings as well.
 */
const EXAMPLES = new URL('../examples/', import.meta.url);
const read = (name: string): unknown => JSON.parse(readFileSync(new URL(name, EXAMPLES), 'utf8'));
const finish = <R>(run: Generator<unknown, R, void>): R => {
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};
const mm = (l_m: number): string => (1000 * l_m).toFixed(2);

const engine = engineHere();
const clay = parseClay(read('studio-porcelain.clay.json'));
const schedule = parseSchedule(read('cone-10-slow.schedule.json'));
const triangles = Number(process.argv[2] ?? 2000);
const forms = readdirSync(EXAMPLES).filter((f) => f.endsWith('.form.json'));

for (const file of forms) {
  const form = parseForm(read(file));
  for (const attitude of ['upright', 'rim down', 'on its side'] as const) {
    const setting = Setting.parse({ attitude });
    const common = { form, clay, schedule, setting, triangles, care: 'quick' } as const;
    const began = performance.now();
    const free = finish(aim(common, engine));
    const between = performance.now();
    const made = finish(makeable({ aim: free }, engine));
    const ratio = (performance.now() - between) / (between - began);
    console.log(
      `| ${form.name} | ${attitude} | ${mm(free.max_m)} | ${mm(made.fit.free.rms_m)} | ${mm(made.fit.rounded.rms_m)} | ${mm(made.max_m)} | ${mm(made.rms_m)} | ${ratio.toFixed(0)} |`,
    );
    for (const { text } of made.remains) console.log(`    ${text}`);
    for (const text of made.added) console.log(`    + ${text}`);
  }
  if (process.argv[3] !== 'settings') continue;
  const setting = Setting.parse({ attitude: 'upright' });
  const best = finish(bestSetting({ form, clay, schedule, setting, triangles, care: 'quick' }, engine));
  console.log(`${form.name}: ${best.text}`);
  for (const { text } of best.ranked) console.log(`    ${text}`);
}
