/**
 * Three hundred pieces from the dice, fired one after another, and what became of them: written to docs/random-firings.md.
 * Resumable: what is done is kept in a file of the temporary folder by seed and number.
 * Run by hand: npx tsx bench/random-firings.ts [how many to fire = 300] [first number = 1] [most minutes]
 */
import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { forgeHere } from '../src/cli/forge.ts';
import { wasmEngine } from '../src/kernel/numerics/wasm-engine.ts';
import { castOf, type Fate, fateOf, kitchenOf } from '../test/random-firings.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../examples/${name}`, import.meta.url), 'utf8'));

const wanted = Number(process.argv[2] ?? 300);
const firstNumber = Number(process.argv[3] ?? 1);
const minutes = Number(process.argv[4] ?? 120);
const notes = path.join(os.tmpdir(), `afterfire-random-firings-${firstNumber}.jsonl`);

const forge = forgeHere();
const kitchen = {
  ...kitchenOf(example('studio-porcelain.clay.json'), example('cone-10-slow.schedule.json')),
  ...(forge && { engine: wasmEngine(forge) }),
};

/** Runs on from where the notes stop until so many have been fired (refusals are told apart and do not count). */
const fates = (): Fate[] => {
  const done: Fate[] = existsSync(notes)
    ? readFileSync(notes, 'utf8')
        .trim()
        .split('\n')
        .filter(Boolean)
        .map((line) => JSON.parse(line))
    : [];
  const fired = () => done.filter((f) => f.kind !== 'refused').length;
  const begun = Date.now();
  for (let n = firstNumber + done.length; fired() < wanted; n++) {
    if (Date.now() - begun > 60_000 * minutes) break;
    const fate = fateOf(n, kitchen);
    done.push(fate);
    appendFileSync(notes, `${JSON.stringify(fate)}\n`);
    const trouble = fate.faults.length > 0 ? `  ${fate.faults.join('; ')}` : '';
    console.log(`${fired()}/${wanted}  number ${n}: ${fate.kind}, ${fate.seconds.toFixed(1)} s${trouble}`);
  }
  return done;
};

const count = (list: readonly string[]): [string, number][] => {
  const counts = new Map<string, number>();
  for (const x of list) counts.set(x, (counts.get(x) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1]);
};

const row = (f: Fate): string => {
  const cast = castOf(f.seed);
  const { attitude, props } = cast.setting as { attitude: string; props: { kind: string }[] };
  const on = props.map((p) => p.kind).join(', ');
  return `| ${f.seed} | ${attitude}${on ? ` on ${on}` : ''} | ${cast.care} | ${f.kind} | ${f.faults.join('; ')} |`;
};

const page = (all: readonly Fate[]): string => {
  const fired = all.filter((f) => f.kind !== 'refused');
  const faulty = fired.filter((f) => f.faults.length > 0);
  const refused = all.filter((f) => f.kind === 'refused');
  const worst = (of: (f: Fate) => number) => Math.max(0, ...fired.map(of));
  return `# Random firings

Written by \`npx tsx bench/random-firings.ts\`. ${all.length} pieces from the dice (numbers ${firstNumber} to ${firstNumber + all.length - 1}; the number is the
seed): lines, walls and feet within what hands throw, all alterations, openings and reliefs, uneven walls, all attitudes, props,
friction, gripping shelves and a hot side, 900 to 1500 triangles, one in ten with full care. ${refused.length} were refused in words before the
fire; **${fired.length} were fired**.

Looked for in every frame of the film: numbers that are none, triangles turned over against their neighbours, a depth of more
than 0.1 mm in the shelf or a prop, more than 0.5 % of the volume gained or lost, an estimate that is no number, a missing
verdict, anything thrown that is not a refusal. **${fired.length - faulty.length} of ${fired.length} kept every promise.** Deepest: ${worst((f) => f.deepest_mm).toFixed(2)} mm; most volume: ${worst((f) => f.volume_percent).toFixed(2)} %.

| verdict | pieces |
|---|---|
${count(fired.map((f) => f.kind))
  .map(([kind, n]) => `| ${kind} | ${n} |`)
  .join('\n')}

## Failures

${faulty.length === 0 ? 'None.' : `| number | set | care | verdict | what failed |\n|---|---|---|---|---|\n${faulty.map(row).join('\n')}`}

## Refused before the fire

| field | pieces |
|---|---|
${count(refused.map((f) => (f.told.match(/^[a-zA-Z]+(\.[a-zA-Z]+)*/) ?? ['?'])[0]))
  .map(([field, n]) => `| ${field} | ${n} |`)
  .join('\n')}
`;
};

const all = fates();
writeFileSync(new URL('../docs/random-firings.md', import.meta.url), page(all));
console.log(page(all));
